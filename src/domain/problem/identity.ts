/**
 * Names by which people and fixtures are known: initials and serial numbers. Two spellings that a reader takes for the same
 * name must not become two persons or two fixtures (Unicode TS #39, Unicode Security Mechanisms).
 */

/** What two spellings of one name have in common: NFKC, without what cannot be seen, blanks made one, case folded. */
export const identityKey = (name: string): string =>
  blanksMadeOne(blanksMadeOne(name.normalize("NFKC")).replace(INVISIBLE, ""))
    .toUpperCase()
    .toLowerCase()
    .normalize("NFKC");

const blanksMadeOne = (name: string): string => name.replace(/\s+/gu, " ").trim();

/** Default ignorables, format characters (bidi marks among them), controls, and what has no character yet or is for private use. */
const INVISIBLE = /[\p{Default_Ignorable_Code_Point}\p{Cf}\p{Cc}\p{Co}\p{Cn}\p{Cs}]/gu;

/** True for two spellings of one serial number or of one person's initials. */
export const isSameName = (a: string, b: string): boolean => identityKey(a) === identityKey(b);

/** How a name is written down: NFKC, one blank at a time, none around it. Its case stays as it was typed. */
export const writtenName = (name: string): string => blanksMadeOne(name.normalize("NFKC"));

/** What is wrong with a name, in words; undefined when it may be used. */
export const nameTrouble = (name: string): string | undefined => {
  if (/[\t\n\r\v\f]/u.test(name.trim())) return "has a tab or a line break in it";
  if (name.trim().search(INVISIBLE) >= 0) return "has a character in it that nobody can see";
  if (isMixed(name.normalize("NFKC"))) return "mixes letters of several alphabets that look alike";
  return undefined;
};

/** Scripts in modern use (Unicode TS #31, table 5); letters of any other are refused as a mix. */
const SCRIPTS = [
  "Arabic",
  "Armenian",
  "Bengali",
  "Bopomofo",
  "Cyrillic",
  "Devanagari",
  "Ethiopic",
  "Georgian",
  "Greek",
  "Gujarati",
  "Gurmukhi",
  "Hangul",
  "Han",
  "Hebrew",
  "Hiragana",
  "Kannada",
  "Katakana",
  "Khmer",
  "Lao",
  "Latin",
  "Malayalam",
  "Myanmar",
  "Oriya",
  "Sinhala",
  "Tamil",
  "Telugu",
  "Thaana",
  "Thai",
  "Tibetan",
] as const;
const BY_SCRIPT = SCRIPTS.map((script) => [script, new RegExp(`\\p{Script_Extensions=${script}}`, "u")] as const);
const EVERYWHERE = /[\p{Script=Common}\p{Script=Inherited}]/u;
/** "Highly restrictive" (Unicode TS #39, 5.2): one script, or these together. */
const TOGETHER: readonly (readonly string[])[] = [
  ["Latin", "Han", "Hiragana", "Katakana"],
  ["Latin", "Han", "Bopomofo"],
  ["Latin", "Han", "Hangul"],
];

const isMixed = (name: string): boolean => {
  const letters = [...name].filter((letter) => !isEverywhere(letter)).map(scriptsOf);
  const alone = SCRIPTS.some((script) => letters.every((scripts) => scripts.includes(script)));
  const together = TOGETHER.some((set) => letters.every((scripts) => scripts.some((script) => set.includes(script))));
  return letters.length > 0 && !alone && !together;
};

/** A mark that several scripts share has them as extensions, and is not everywhere. */
const isEverywhere = (letter: string): boolean => EVERYWHERE.test(letter) && scriptsOf(letter).length === 0;
const scriptsOf = (letter: string): readonly string[] =>
  BY_SCRIPT.flatMap(([script, fits]) => (fits.test(letter) ? [script] : []));

/** The name as a reader sees it: letters of other alphabets and digits that look like a Latin letter are taken for it. */
export const lookOf = (name: string): string =>
  [...identityKey(name)]
    .map((letter) => ALIKE.get(letter) ?? letter)
    .filter((letter) => /[\p{L}\p{N}]/u.test(letter))
    .join("");

/** Those confusables of Unicode TS #39 (4) that serial numbers and initials are made of, in lower case. */
const ALIKE: ReadonlyMap<string, string> = new Map(
  (
    [
      ["o", "0оοօ"],
      ["l", "1iıіιӏ|"],
      ["a", "аα"],
      ["b", "вβ"],
      ["c", "сϲ"],
      ["e", "еε"],
      ["h", "нһη"],
      ["j", "јϳ"],
      ["k", "кκ"],
      ["m", "мμ"],
      ["n", "ν"],
      ["p", "рρ"],
      ["s", "5ѕ"],
      ["t", "тτ"],
      ["x", "хχ"],
      ["y", "уγυ"],
      ["z", "2ζ"],
    ] as const
  ).flatMap(([latin, others]) => [...others].map((other) => [other, latin] as const)),
);
