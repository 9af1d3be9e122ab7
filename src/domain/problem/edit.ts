import { isMap, isNode, isScalar, isSeq, type Pair, parseDocument, type YAMLMap } from "yaml";
import type { Path } from "./document.ts";

/** A new value at one place of a data file, spelled as it shall stand there. */
export interface TextEdit {
  readonly path: Path;
  readonly text: string;
}

/**
 * The text of a data file with these values in it and nothing else changed: comments, order and columns stay as they were.
 * A place that is written by reference to another one is left alone, so read the result again before relying on it.
 */
export const edited = (text: string, edits: readonly TextEdit[]): string => {
  const { contents } = parseDocument(text);
  return edits
    .flatMap((edit) => patchFor(text, contents, edit))
    .toSorted((a, b) => a.from - b.from)
    .reduceRight(applied, text);
};

/**
 * The text of a data file with `words` as the comment behind the value at `path`, in place
 * of a comment that stood in that line.
 */
export const remarked = (text: string, path: Path, words: string): string => {
  const [, to] = rangeOf(inside(parseDocument(text).contents, path));
  if (to === 0) return text;
  const end = lineEnd(text, to);
  const comment = /\s+#/.exec(text.slice(to, end))?.index;
  return applied(text, { from: comment === undefined ? end : to + comment, to: end, text: `   # ${words}` });
};

/** Text that takes the place of what stands between two offsets. */
interface TextPatch {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

const applied = (text: string, patch: TextPatch): string =>
  text.slice(0, patch.from) + patch.text + text.slice(patch.to);

const patchFor = (whole: string, root: unknown, { path, text }: TextEdit): readonly TextPatch[] => {
  const [holder, key] = [inside(root, path.slice(0, -1)), path.at(-1)];
  const [from, to] = rangeOf(inside(holder, [key ?? ""]));
  if (to > 0) return [{ from, to, text }];
  return isMap(holder) ? [added(whole, holder, `${String(key)}: ${text}`)] : [];
};

/** A key that was not there, after the last one. */
const added = (text: string, map: YAMLMap, entry: string): TextPatch => {
  const [, to] = rangeOf(map.items.at(-1)?.value);
  if (map.flow) return { from: to, to, text: `, ${entry}` };
  const at = lineEnd(text, to);
  return { from: at, to: at, text: `\n${" ".repeat(columnOf(text, map.items[0]))}${entry}` };
};

/** What stands at a path; never through a reference. */
const inside = (node: unknown, path: Path): unknown =>
  path.reduce<unknown>((holder, key) => {
    if (isSeq(holder)) return holder.items[Number(key)];
    if (!isMap(holder)) return undefined;
    return holder.items.find((pair) => isScalar(pair.key) && String(pair.key.value) === String(key))?.value;
  }, node);

const rangeOf = (node: unknown): readonly [number, number] => {
  const range = isNode(node) ? node.range : undefined;
  return range ? [range[0], range[1]] : [0, 0];
};

const lineEnd = (text: string, from: number): number => {
  const end = text.indexOf("\n", from);
  return end < 0 ? text.length : end;
};

const columnOf = (text: string, pair: Pair | undefined): number => {
  const [from] = rangeOf(pair?.key);
  return from - (text.lastIndexOf("\n", from - 1) + 1);
};
