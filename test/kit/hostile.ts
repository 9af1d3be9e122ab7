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
