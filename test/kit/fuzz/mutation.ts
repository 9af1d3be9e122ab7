import fc from "fast-check";

/** One small change to a text, `at` a share of its length: what a slip of the hand, a bad disk or a clever enemy might do. */
export interface Edit {
  readonly kind: (typeof KINDS)[number];
  readonly at: number;
  readonly other: number;
  readonly what: string;
}

const KINDS = [
  "cut the end",
  "drop a line",
  "swap two lines",
  "repeat a line",
  "repeat a stretch",
  "drop a stretch",
  "change a number",
  "change a word",
  "put in",
  "change a character",
] as const;

const share = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true });
const ODD = [
  ..."-1|0|1|255|256|65536|4294967296|1e9|1e308|1e400|-0|0.0000001|.inf|NaN|0x7f|1_000|99999999999999999999".split("|"),
  ..."null|~|true|[]|{}|[[[[|}}|: :|- -|&a|*a|!!js/function|<<|#|'|\"|%|@|`|\t|\r|\u0000|\u2028|\ufeff|\ud800|é".split(
    "|",
  ),
  ..."<|>|/>|</a>|<a>|<!--|-->|<![CDATA[|]]>|&lt;|&#0;|&#x110000;|<?x ?>|<!DOCTYPE a>|__proto__|constructor|Pan|Gobo1|1/1|255/4s|None|Overwrite".split(
    "|",
  ),
];

const edit: fc.Arbitrary<Edit> = fc.record({
  kind: fc.constantFrom(...KINDS),
  at: share,
  other: share,
  what: fc.oneof(fc.constantFrom(...ODD), fc.string({ maxLength: 8 }), fc.integer().map(String)),
});

export const edits: fc.Arbitrary<readonly Edit[]> = fc.array(edit, { minLength: 1, maxLength: 4 });

export const edited = (text: string, all: readonly Edit[]): string => all.reduce(editedOnce, text);

const editedOnce = (text: string, { kind, at, other, what }: Edit): string => {
  const index = Math.floor(at * text.length);
  const end = Math.min(text.length, index + Math.floor(other * 200));
  const lines = text.split("\n");
  const line = Math.floor(at * lines.length);
  const second = Math.floor(other * lines.length);
  switch (kind) {
    case "cut the end":
      return text.slice(0, index);
    case "drop a line":
      return lines.toSpliced(line, 1).join("\n");
    case "swap two lines":
      return lines
        .with(line, lines[second] ?? "")
        .with(second, lines[line] ?? "")
        .join("\n");
    case "repeat a line":
      return lines.toSpliced(line, 0, lines[second] ?? "").join("\n");
    case "repeat a stretch":
      return text.slice(0, end) + text.slice(index);
    case "drop a stretch":
      return text.slice(0, index) + text.slice(end);
    case "change a number":
      return changed(text, /-?\d+(\.\d+)?/g, at, what);
    case "change a word":
      return changed(text, /[A-Za-z_]\w*/g, at, what);
    case "put in":
      return text.slice(0, index) + what + text.slice(index);
    case "change a character":
      return text.slice(0, index) + String.fromCharCode(Math.floor(other * 256)) + text.slice(index + 1);
  }
};

const changed = (text: string, pattern: RegExp, at: number, what: string): string => {
  const found = [...text.matchAll(pattern)];
  const one = found[Math.floor(at * found.length)];
  return one ? text.slice(0, one.index) + what + text.slice(one.index + one[0].length) : text;
};

/** Bytes written over, and perhaps the end cut off. */
export interface Damage {
  readonly flips: readonly { readonly at: number; readonly byte: number }[];
  readonly keep: number;
}

export const damage: fc.Arbitrary<Damage> = fc.record({
  flips: fc.array(fc.record({ at: share, byte: fc.nat(255) }), { minLength: 1, maxLength: 6 }),
  keep: fc.oneof({ weight: 4, arbitrary: fc.constant(1) }, share),
});

export const damaged = (bytes: Uint8Array, { flips, keep }: Damage): Uint8Array => {
  const copy = bytes.slice();
  for (const { at, byte } of flips) copy[Math.floor(at * copy.length)] = byte;
  return copy.slice(0, Math.floor(keep * copy.length));
};
