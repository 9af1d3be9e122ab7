import { edited } from "../../domain/problem/edit.ts";
import type { RackFile } from "./parse.ts";

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
export const editedText = (text: string, edits: readonly Edit[]): string =>
  edited(
    text,
    edits.map(({ entry, key, value }) => ({ path: ["fixtures", entry, key], text: inYaml(value) })),
  );

/**
 * A value as it is written into YAML: a text is plain where YAML takes it plain, in quotes where it might mean something
 * else; a number `value` is an address or a universe, written as it is.
 */
export const inYaml = (value: string | number): string => {
  const plain =
    /^[A-Za-z][A-Za-z0-9 ._/-]*[A-Za-z0-9]$/.test(String(value)) && !/^(true|false|null)$/i.test(String(value));
  return typeof value === "number" || plain ? String(value) : JSON.stringify(value);
};

/** What a rack file that is made anew says: the rest of its keys is written by hand. `entries` are lines of `entryText`. */
export interface NewRack {
  /** Small letters, digits and hyphens. */
  readonly name: string;
  readonly title: string;
  /** From 1; each is written once, the lowest first. */
  readonly universes: readonly number[];
  /** Stands behind the key of the fixtures; "" for nothing. */
  readonly remark: string;
  readonly entries: readonly string[];
}

/** The text of a rack file that is made anew, every universe on a simulated line until somebody says what it goes out on. */
export const newRackText = ({ name, title, universes, remark, entries }: NewRack): string =>
  [
    `rack: ${name}`,
    `title: ${inYaml(title)}`,
    "lines:   # say what each universe really goes out on",
    ...[...new Set(universes)].toSorted((a, b) => a - b).map((one) => `  - { universe: ${one}, output: sim }`),
    remark === "" ? "fixtures:" : `fixtures:   # ${remark}`,
    ...entries,
    "",
  ].join("\n");

/** One fixture on a line of its own: keys in this order with values as they stand in YAML; keys without a value are left out. */
export const entryText = (
  pairs: readonly (readonly [key: Edit["key"], value: string | number | undefined])[],
): string => {
  const said = pairs.filter(([, value]) => value !== undefined);
  return `  - { ${said.map(([key, value]) => `${key}: ${value}`).join(", ")} }`;
};
