import { checkShape, type DataFile, problemAt, readDataFile } from "../problem/document.ts";
import { hintFor } from "../problem/nearest.ts";
import { bad, byPlace, good, type Problem, type Result } from "../problem/problem.ts";
import type { FunctionId } from "../trade/functions.ts";
import { ROUTINE_IDS, type RoutineId } from "../trade/routines.ts";
import { STEP_SHAPES, type StepOptions, sequenceFile } from "./schema.ts";
import type { Sequence, Step } from "./sequence.ts";

type StepText = Readonly<Record<string, unknown>>;

/** Reads a sequence from YAML: the sequence, or everything that is wrong with the file at once. */
export const parseSequence = (source: string, text: string): Result<Sequence> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const frame = checkShape(file.value, sequenceFile);
  const written = (file.value.value as { steps?: unknown } | null)?.steps;
  const entries = Array.isArray(written) ? (written as readonly unknown[]) : [];
  const inside = entries.flatMap((entry, index) => stepProblems(file.value, entry, index));
  if (!frame.ok || inside.length > 0) return bad(...byPlace([...(frame.ok ? [] : frame.problems), ...inside]));
  const steps = withIds(entries.map((entry, index) => stepFrom(file.value, entry as StepText, index)));
  const repeated = repeatedIds(file.value, steps);
  if (repeated.length > 0) return bad(...repeated);
  return good({ name: frame.value.sequence, title: frame.value.title, steps });
};

const routineOf = (entry: unknown): RoutineId | undefined =>
  typeof entry === "object" && entry !== null ? ROUTINE_IDS.find((routine) => routine in entry) : undefined;

const stepProblems = (file: DataFile, entry: unknown, index: number): readonly Problem[] => {
  const path = ["steps", index];
  if (typeof entry !== "object" || entry === null)
    return [problemAt(file, path, { message: "a step needs a routine and a function, as in: sweep: Pan" })];
  const routine = routineOf(entry);
  if (routine !== undefined) {
    const checked = checkShape<unknown>(file, STEP_SHAPES[routine], path);
    return checked.ok ? [] : checked.problems;
  }
  const first = Object.keys(entry)[0] ?? "";
  return [
    problemAt(file, [...path, first], {
      message: `"${first}" is not a known routine`,
      hint: hintFor(first, ROUTINE_IDS) ?? `known: ${ROUTINE_IDS.join(", ")}`,
      at: "key",
    }),
  ];
};

type Draft = Omit<Step, "id"> & { readonly id: string | undefined };

const stepFrom = (file: DataFile, entry: StepText, index: number): Draft => {
  const routine = routineOf(entry) as RoutineId;
  const { [routine]: named, id, ...options } = entry;
  return {
    id: id as string | undefined,
    routine,
    functions: (Array.isArray(named) ? named : named === "fixture" ? [] : [named]) as readonly FunctionId[],
    options: options as StepOptions,
    line: file.place(["steps", index], "key").line,
  };
};

/** A step without an id is called after its routine and function; the second of that name gets "-2". */
const withIds = (drafts: readonly Draft[]): readonly Step[] => {
  const seen = new Map<string, number>();
  return drafts.map((draft) => {
    const base =
      draft.id ?? `${draft.routine}-${draft.functions.join("-") || "fixture"}`.toLowerCase().replaceAll("_", "");
    const count = (seen.get(base) ?? 0) + 1;
    seen.set(base, count);
    return { ...draft, id: draft.id ?? (count === 1 ? base : `${base}-${count}`) };
  });
};

const repeatedIds = (file: DataFile, steps: readonly Step[]): readonly Problem[] =>
  steps.flatMap(({ id }, index) =>
    steps.findIndex((other) => other.id === id) < index
      ? [problemAt(file, ["steps", index, "id"], { message: `a step called "${id}" came before` })]
      : [],
  );
