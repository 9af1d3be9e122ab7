import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { type PublicFunction, publicFunctions } from "./kit/docstrings.ts";

/**
 * Whoever calls a function of another file reads its docstring and nothing else. So over every exported function, and over
 * every public method of an exported class, a comment says:
 *
 * - what it does or gives, first and in a plain sentence;
 * - of each parameter that is a bare `number`: its name, with its unit or range in the same sentence. No need where the type
 *   is one of `domain/units.ts`, or where the name is a unit itself (`seconds`, `slot`, `columns`);
 * - of a bare `number` that is returned: what it counts, or its unit or range;
 * - what is thrown, or what a promise is rejected with; a thrown "Bug: ..." needs no word;
 * - when `undefined` comes, or when a `Result` is none.
 *
 * It is read alone, where a call is hovered over. So it does not begin with "The same", which asks for its neighbour, and it
 * does not say "so many" or "so long" of a parameter that it could name.
 *
 * Methods of exported interfaces are asked for their numbers only: their names say the rest.
 *
 * That a formula of a standard or a paper names it is for readers to see: no parser can. A class that implements an
 * interface has its comments there.
 */

/** Each function of these files is one option of a command, with the words of its help in it: a comment would only repeat them. */
const SAYS_ITSELF: readonly string[] = ["app/common/options.ts"];

/** Words that say what a number measures or between which bounds it lies. */
const MEASURE = new RegExp(
  `\\b(?:${[
    "(?:milli|micro)?seconds?|minutes?|hours?|days?|months?|years?|ms|UTC|hertz|Hz|metres?|m|mm|pixels?|lux|volts?|amps?|milliamps?",
    "degrees?|turns|radians?|per cent|percent|percentage points|share|ratio|factor|probabilit\\w+|logarithms?|odds|standard deviations?",
    "frames?|slots?|bits?|bytes?|columns?|rows?|lines?|characters?|letters?|pages?|levels?|steps?|passes|universes?",
    "count(?:s|ed|ing)?|number of|whole numbers?|how (?:many|often|far|long|much)|at least|at most|or more|or less|positive",
    "index|indices|units?|digits|decimals|sequence number|from -?\\d+|-?[\\d.,]+ (?:[a-z]+ )?to |above \\d+|below \\d+|under \\d+|up to \\d+|not a number",
  ].join("|")})\\b|%`,
  "i",
);

/** A parameter that is called so has its unit in its name. */
const UNIT_NAMES =
  /^(?:ms|.*Ms|seconds?|.*Seconds|.*Minutes|minutes|days|hours|.*Frames?|frames?|.*Slots?|slots?|.*Bytes|bytes?|bits|deg|.*Deg|degrees|.*Columns?|columns?|.*Rows?|rows?|lines?|.*Index|index|.*Count|count|.*Metres|level|levels|universe|kilograms|volts|amps)$/;

const NONE = /\b(?:undefined|nothing|none)\b/i;
const CONDITION =
  /\b(?:when|where|if|unless|until|without|for|as long as|before|outside|after|while|once|in|whose|that|of|otherwise|else)\b/i;
const WRONG =
  /\b(?:wrong|problems?|mistakes?|refus\w+|cannot|unknown|missing|fails?|invalid|damaged|broken|or (?:why|which|that))\b/i;
const THROWS = /\b(?:throws?|thrown|rejects?|rejected|refuses|refused|fails?)\b/i;

/** Words that only make sense beside another comment, or that leave the reader to guess which parameter is meant. */
const RIDDLE = /^The same\b|\bso (?:many|much|often|long)\b(?! (?:as|that)\b)/;

const sentences = (doc: string): readonly string[] =>
  doc.split(/\n(?=\s*(?:@|- ))/).flatMap((part) => part.replaceAll(/\s+/g, " ").split(/(?<=[.;]) /));

const names = (sentence: string, word: string): boolean => new RegExp(`\\b${word}\\b`, "i").test(sentence);

const numbersUnsaid = (one: PublicFunction): readonly string[] => [
  ...one.numbers
    .filter((name) => !UNIT_NAMES.test(name))
    .filter(
      (name) =>
        !sentences(one.doc).some((sentence) => names(sentence, name) && MEASURE.test(sentence.replace(name, ""))),
    )
    .map((name) => `does not say the unit or range of ${name}`),
  ...(one.returnsNumber && !MEASURE.test(one.doc) ? ["does not say what the number returned counts or measures"] : []),
];

/** What is missing over one function, each as a few words. */
const missing = (one: PublicFunction): readonly string[] => {
  if (one.of === "interface") return numbersUnsaid(one);
  if (one.doc === "") return ["has no docstring"];
  const said = sentences(one.doc);
  return [
    /^[A-Z`"0-9(][^@]*? \S+ \S+/s.test(one.doc) && /[.:;!?)]$|[.:;]\s/.test(one.doc)
      ? ""
      : "does not open with a sentence",
    RIDDLE.test(one.doc) ? "leans on a neighbour or leaves a parameter unnamed" : "",
    ...[...one.doc.matchAll(/@param (\w+)/g)]
      .map(([, name = ""]) => name)
      .filter((name) => !one.parameters.includes(name))
      .map((name) => `names a parameter that it does not have: ${name}`),
    ...numbersUnsaid(one),
    one.throws && !THROWS.test(one.doc) ? "does not say what it throws" : "",
    one.mayBeUndefined && !said.some((sentence) => NONE.test(sentence) && CONDITION.test(sentence))
      ? "does not say when it is undefined"
      : "",
    one.mayBeRefused && !WRONG.test(one.doc) ? "does not say when the result is none" : "",
  ].filter((words) => words !== "");
};

const FILES = readdirSync("src", { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .toSorted();

test("every public function says what a caller must know", () => {
  const all = FILES.flatMap((file) =>
    publicFunctions(readFileSync(join("src", file), "utf8")).map((one) => ({ file, one })),
  );
  expect(all.length).toBeGreaterThan(1000);
  const lacking = all.flatMap(({ file, one }) =>
    missing(one)
      .filter((words) => !(words === "has no docstring" && SAYS_ITSELF.includes(file)))
      .map((words) => `src/${file}:${one.line}: ${one.name} ${words}`),
  );
  expect(lacking).toEqual([]);
});

test.each([
  ["/** How long a move takes. */\nexport const f = (n: Seconds): Seconds => n;", []],
  ["export const f = (): string => '';", ["has no docstring"]],
  ["/** the move */\nexport const f = (): string => '';", ["does not open with a sentence"]],
  ["/** Moves it on. */\nexport const f = (by: number): string => '';", ["does not say the unit or range of by"]],
  ["/** Moves it on by `by` degrees. */\nexport const f = (by: number): string => '';", []],
  [
    "/** Moves it on. */\nexport const f = ({ by }: { readonly by?: readonly number[] }): string => '';",
    ["does not say the unit or range of by"],
  ],
  ["/** Moves it on. */\nexport const f = (seconds: number): string => '';", []],
  [
    "/** How heavy it is. */\nexport function f(): Promise<number> {}",
    ["does not say what the number returned counts or measures"],
  ],
  ["/** Opens the port. */\nexport const f = (): void => { throw cause; };", ["does not say what it throws"]],
  ["/** Opens the port. */\nexport const f = (): void => { throw new Error('Bug: one'); };", []],
  ["/** Finds a fixture. */\nexport const f = (): A | undefined => a;", ["does not say when it is undefined"]],
  ["/** Reads a fixture. */\nexport const f = (): Result<A> => a;", ["does not say when the result is none"]],
  [
    "/** The same in words. */\nexport const f = (): string => '';",
    ["leans on a neighbour or leaves a parameter unnamed"],
  ],
  [
    "/**\n * Moves it on.\n *\n * @param by in degrees\n */\nexport const f = (on: string): string => '';",
    ["names a parameter that it does not have: by"],
  ],
  ["/** A line. */\nexport class Line {\n  close(): void {}\n  #open(): void {}\n}", ["has no docstring"]],
  [
    "/** A line. */\nexport interface Line {\n  close(): void;\n  wait(time: number): void;\n}",
    ["does not say the unit or range of time"],
  ],
])("%s: %j", (source, lacks) => {
  expect(publicFunctions(source).flatMap(missing)).toEqual(lacks);
});
