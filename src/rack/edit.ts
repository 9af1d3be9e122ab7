import { isMap, isScalar, isSeq, type Pair, parseDocument, type Range, type YAMLMap } from "yaml";
import type { RackFile } from "./schema.ts";

/** A new value for one key of one fixture; `entry` counts the fixtures of the file from 0. */
export interface Edit {
  readonly entry: number;
  readonly key: keyof RackFile["fixtures"][number];
  readonly value: string | number;
}

/**
 * The text of a rack file with these values in it and nothing else changed: comments, order and columns stay as they were.
 * A fixture that is written by reference to another one is left alone, so read the result again before relying on it.
 */
export const editedText = (text: string, edits: readonly Edit[]): string => {
  const fixtures = parseDocument(text).get("fixtures");
  const entries: readonly unknown[] = isSeq(fixtures) ? fixtures.items : [];
  const patches = edits.flatMap(({ entry, key, value }): readonly Patch[] => {
    const map = entries[entry];
    return isMap(map) ? [patchFor(text, map, key, inYaml(value))] : [];
  });
  return patches.toSorted((a, b) => a.from - b.from).reduceRight(applied, text);
};

/** Text that takes the place of what stands between two offsets. */
interface Patch {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const applied = (text: string, patch: Patch): string => text.slice(0, patch.from) + patch.text + text.slice(patch.to);

const patchFor = (text: string, map: YAMLMap, key: string, value: string): Patch => {
  const pair = map.items.find((item) => isScalar(item.key) && item.key.value === key);
  const [from, to] = pair ? rangeOf(pair.value) : rangeOf(map.items.at(-1)?.value);
  if (pair) return { from, to, text: value };
  if (map.flow) return { from: to, to, text: `, ${key}: ${value}` };
  const end = text.indexOf("\n", to);
  const at = end < 0 ? text.length : end;
  return { from: at, to: at, text: `\n${" ".repeat(columnOf(text, map.items[0]))}${key}: ${value}` };
};

const rangeOf = (node: unknown): readonly [number, number] => {
  const { range } = (node ?? {}) as { readonly range?: Range };
  return range ? [range[0], range[1]] : [0, 0];
};

const columnOf = (text: string, pair: Pair | undefined): number => {
  const [from] = rangeOf(pair?.key);
  return from - (text.lastIndexOf("\n", from - 1) + 1);
};

/** Plain where YAML takes it plain, in quotes where it might mean something else. */
export const inYaml = (value: string | number): string => {
  const plain =
    /^[A-Za-z][A-Za-z0-9 ._/-]*[A-Za-z0-9]$/.test(String(value)) && !/^(true|false|null)$/i.test(String(value));
  return typeof value === "number" || plain ? String(value) : JSON.stringify(value);
};
