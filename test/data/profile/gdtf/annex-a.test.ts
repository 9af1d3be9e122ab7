import { readFileSync, writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type Fate, fateOf } from "../../../../src/data/profile/gdtf/attributes.ts";
import { ANNEX_A } from "./kit/annex-a.ts";

/** What becomes of an attribute, in the words of the table. */
const wordsOf = (fate: Fate): string => {
  if (fate.kind === "drives") return `drives ${fate.id}: ${fate.role}`;
  return fate.kind === "held" ? `held: ${fate.why}` : `held dark: ${fate.why}`;
};

/** "Gobo3" for "Gobo(n)"; the second number of a name is always 1. */
const numbered = (name: string, n: number): string => name.replace("(n)", String(n)).replace("(m)", "1");

/** Each name with what becomes of it: once where its number makes no difference, else number by number as far as it does. */
const fates: readonly (readonly [name: string, fate: string])[] = ANNEX_A.flatMap((name) => {
  const words = [1, 2, 3, 4, 5, 6].map((n) => wordsOf(fateOf(numbered(name, n))));
  if (new Set(words).size === 1) return [[name, words[0] ?? ""] as const];
  const last = words.findLastIndex((one) => one !== words.at(-1)) + 1;
  return words
    .slice(0, last + 1)
    .map((one, index) => [index < last ? numbered(name, index + 1) : `${name} from n = ${last + 1}`, one] as const);
});

/** The table of DEVELOPERS.md: what is driven first, then what is held and why, in the order of the standard. */
const table = (): string => {
  const kinds = [...new Set(fates.map(([, fate]) => fate))];
  const inOrder = ["drives", "held dark", "held:"].flatMap((start) => kinds.filter((kind) => kind.startsWith(start)));
  const rows = inOrder.map((kind) => {
    const names = fates.filter(([, fate]) => fate === kind).map(([name]) => name);
    return `| ${kind} | ${names.join(", ")} |`;
  });
  return ["| what becomes of it | attributes of annex A |", "|---|---|", ...rows].join("\n");
};

const [FROM, TO] = ["<!-- attributes -->\n", "\n<!-- attributes end -->"];
const partsOf = (text: string): readonly [before: string, table: string, after: string] => {
  const [from, to] = [text.indexOf(FROM) + FROM.length, text.indexOf(TO)];
  return [text.slice(0, from), text.slice(from, to), text.slice(to)];
};

test("DEVELOPERS.md lists every attribute of annex A with what becomes of it, as the importer has it", () => {
  const [before, written, after] = partsOf(readFileSync("DEVELOPERS.md", "utf8"));
  if (process.env["RENEW"] !== undefined) writeFileSync("DEVELOPERS.md", `${before}${table()}${after}`);
  else expect(written).toBe(table());
});

test("none of them is taken for an attribute of the maker's own", () => {
  expect(fates.filter(([, fate]) => fate.includes("maker's own"))).toEqual([]);
});

/** What a technician sees move or light up by itself, and so must be understood: driven, or held with a reason of its own. */
test.each([
  { name: "Pan", is: "drives Pan: travel" },
  { name: "Gobo2PosRotate", is: "drives Gobo2Pos: turn" },
  { name: "ColorAdd_UV", is: "held dark: an emitter that Limber does not drive" },
  { name: "PanRotate", is: "held: movement without an end: Limber drives pan and tilt between two ends" },
])("$name $is", ({ name, is }) => {
  expect(wordsOf(fateOf(name))).toBe(is);
});
