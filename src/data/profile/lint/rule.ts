import type { Path } from "../../../domain/problem/document.ts";
import { type FunctionId, isAxisFunction } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import type { FunctionSpec } from "../profile.ts";
import type { RuleName } from "../schema.ts";

/** One mistake that people make when they copy a chart: the profile can be used and would yet mislead. */
export interface ProfileRule {
  readonly name: RuleName;
  /** One sentence: what goes wrong at the bench when it is left as it is. */
  readonly why: string;
  readonly find: (read: ReadProfile) => readonly ProfileFinding[];
}

export interface ProfileFinding {
  /** Where in the file. */
  readonly path: Path;
  /** The name itself is meant, not its value. */
  readonly at?: "key";
  readonly message: string;
  /** What to write there, as it would stand in the file where that is known. */
  readonly instead: string;
}

type SpecKind = FunctionSpec["kind"];
type SpecOf<K extends SpecKind> = Extract<FunctionSpec, { kind: K }>;

/** All functions of one kind, in the order of the file. */
export const functionsOfKind = <K extends SpecKind>(
  { profile }: ReadProfile,
  kind: K,
): readonly (readonly [FunctionId, SpecOf<K>])[] =>
  [...profile.functions].flatMap(([id, spec]) => (isKind(spec, kind) ? [[id, spec] as const] : []));

/** Pan and tilt, where they travel. */
export const axesOf = (read: ReadProfile): readonly (readonly [FunctionId, SpecOf<"travel">])[] =>
  functionsOfKind(read, "travel").filter(([id]) => isAxisFunction(id));

/** Whether the file itself says it, instead of leaving it to what is usual. */
export const says = ({ written }: ReadProfile, id: FunctionId, key: string): boolean =>
  key in (written.functions[id] ?? {});

const isKind = <K extends SpecKind>(spec: FunctionSpec, kind: K): spec is SpecOf<K> => spec.kind === kind;
