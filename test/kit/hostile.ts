/** What a serial number or a note may hold by accident or malice: markup, formulas, escapes, quotes, breaks, turned writing. */
export const HOSTILE_TEXTS: readonly string[] = [
  "<script>globalThis.owned = 1</script>",
  `"><img src=x onerror="globalThis.owned=1">`,
  "</style><script>alert(1)</script>",
  "&lt;b&gt; & 'single' \"double\"",
  '=HYPERLINK("http://192.0.2.1/";"look")',
  "+1+cmd|' /C calc'!A0",
  "@SUM(1+1)",
  "-2+3",
  "\u001b]0;owned\u0007\u001b[2J",
  "two\r\nlines, and a\ttab",
  "\u202egnp.exe\u2066 turned",
  "Scheinwerfer Größe Ö, прожектор, 灯具, كشاف",
  `${"long".repeat(60)}`,
];

/** What a reader takes for one character each (Unicode UAX #29). */
export const charactersIn = (text: string): readonly string[] =>
  [...new Intl.Segmenter().segment(text)].map(({ segment }) => segment);

/**
 * Characters in a text that are neither ASCII nor drawn by the program itself (lines, blocks, dots), and not whole ones of
 * that name, in small or capital letters: empty where no character of it was cut in two.
 */
export const cutCharacters = (text: string, name: string): readonly string[] => {
  // Composed or not, a character is the same one (Unicode UAX #15).
  const whole = new Set([name, name.toUpperCase()].flatMap((one) => charactersIn(one.normalize())));
  return charactersIn(text.normalize()).filter((one) => FOREIGN.test(one) && !whole.has(one));
};
const FOREIGN = /[^\p{ASCII}\u2500-\u259f\u2026\u00b7\u00b1\u00d7\u2013]/u;

/** The same in every kind of writing: a name of several words, so that it can be wrapped, and one that has to be cut somewhere. */
export const SCRIPTS: Readonly<Record<string, string>> = {
  "wide letters": "移動灯具 第七号 青い灯",
  "wide letters, without a blank": "移動灯具第七号青い灯",
  "letters with marks of their own": "Zu\u0308rich a\u0301\u0323e\u0302\u0301 n\u0303-7",
  "letters with marks, without a blank":
    "u\u0308e\u0302\u0301a\u0301\u0323o\u0308n\u0303i\u0302\u0301u\u0308e\u0302a\u0301o\u0308n\u0303i\u0302u\u0308e\u0302\u0301a\u0301\u0323o\u0308n\u0303",
  "joined letters": "क्षेत्र दीप-७",
  "from right to left": "كشاف متحرك-١٢",
  "from right to left, in another script": "זרקור ראשי 7",
  pictures: "💡🔦 🇩🇪🇯🇵 👍🏽-7",
  "pictures, without a blank": "💡🔦🇩🇪🇯🇵👍🏽💡🔦🇩🇪🇯🇵👍🏽",
};
