import { checkShape, type DataFile, problemAt, readDataFile, valueAt } from "../../domain/problem/document.ts";
import { bad, byPlace, good, hintFor, type Problem, type Result } from "../../domain/problem/problem.ts";
import { BY_HAND_IDS, type ByHandId, WRITTEN_ROUTINE_IDS, type WrittenRoutineId } from "../../domain/trade/routines.ts";
import {
  functionsTested,
  HAND_SHAPES,
  type HandStep,
  handWork,
  needsMainsOff,
  type Sequence,
  STEP_SHAPES,
  type Step,
  type StepOptions,
  sequenceFile,
} from "./sequence.ts";

type StepText = Readonly<Record<string, unknown>>;
const isStep = (entry: unknown): entry is StepText => typeof entry === "object" && entry !== null;

/** A sequence beside the file it was read from: for whoever has something to say about a place in it. */
export interface ReadSequence {
  readonly file: DataFile;
  readonly sequence: Sequence;
}

/** Reads a sequence from YAML: the sequence, or everything that is wrong with the file at once. */
export const parseSequence = (source: string, text: string): Result<Sequence> => {
  const read = readSequence(source, text);
  return read.ok ? good(read.value.sequence) : read;
};

/**
 * Reads a sequence from YAML with the file it was read from, for whoever points at a line of it: or
 * everything that is wrong with the file at once.
 */
export const readSequence = (source: string, text: string): Result<ReadSequence> => {
  const file = readDataFile(source, text);
  if (!file.ok) return file;
  const frame = checkShape(file.value, sequenceFile);
  const written = valueAt(file.value, ["steps"]);
  const entries: readonly unknown[] = Array.isArray(written) ? written : [];
  const inside = entries.flatMap((entry, index) => stepProblems(file.value, entry, index));
  if (!frame.ok || inside.length > 0) return bad(...byPlace([...(frame.ok ? [] : frame.problems), ...inside]));
  const drafts = withIds(entries.filter(isStep).map((entry, index) => draftFrom(file.value, entry, index)));
  const wrong = [...repeatedIds(file.value, drafts), ...unpowered(file.value, drafts)];
  if (wrong.length > 0) return bad(...wrong);
  return good({
    file: file.value,
    sequence: { name: frame.value.sequence, title: frame.value.title, ...sorted(drafts) },
  });
};

const kindOf = (entry: unknown): WrittenRoutineId | ByHandId | undefined =>
  isStep(entry) ? KINDS.find((kind) => kind in entry) : undefined;
const KINDS = [...WRITTEN_ROUTINE_IDS, ...BY_HAND_IDS];
const SHAPES = { ...STEP_SHAPES, ...HAND_SHAPES };

const stepProblems = (file: DataFile, entry: unknown, index: number): readonly Problem[] => {
  const path = ["steps", index];
  if (!isStep(entry))
    return [problemAt(file, path, { message: "a step needs a routine and a function, as in: sweep: Pan" })];
  const kind = kindOf(entry);
  if (kind !== undefined) {
    const checked = checkShape<unknown>(file, SHAPES[kind], path);
    return checked.ok ? [] : checked.problems;
  }
  const first = Object.keys(entry)[0] ?? "";
  return [
    problemAt(file, [...path, first], {
      message: `"${first}" is not a known routine`,
      hint: hintFor(first, KINDS) ?? `known: ${KINDS.join(", ")}`,
      at: "key",
    }),
  ];
};

/** A step as it was read, driven or by hand, before it has a name. */
type StepDraft = (Omit<Step, "id"> | Omit<HandStep, "id" | "before">) & {
  readonly id: string | undefined;
  readonly base: string;
};
type NamedStep = StepDraft & { readonly id: string };

const draftFrom = (file: DataFile, entry: StepText, index: number): StepDraft => {
  const byHand = BY_HAND_IDS.find((kind) => kind in entry);
  const line = file.place(["steps", index], "key").line;
  return byHand ? handDraft(byHand, entry, line) : drivenDraft(entry, line);
};

const handDraft = (kind: ByHandId, entry: StepText, line: number): StepDraft => ({
  id: nameIn(entry),
  base: `${kind}-${[entry[kind]].flat().join("-")}`,
  work: handWork(kind, entry[kind]),
  line,
});

const nameIn = ({ id }: StepText): string | undefined => (typeof id === "string" ? id : undefined);

const drivenDraft = (entry: StepText, line: number): StepDraft => {
  const routine = WRITTEN_ROUTINE_IDS.find((one) => one in entry);
  if (routine === undefined) throw new Error(`Bug: the step in line ${line} has no routine`);
  const { [routine]: named, id: _, ...options } = entry;
  const tested = functionsTested.parse(named);
  const functions = tested === "fixture" ? [] : [tested].flat();
  return {
    id: nameIn(entry),
    base: `${routine}-${functions.join("-") || "fixture"}`.toLowerCase().replaceAll("_", ""),
    routine,
    functions,
    options: options as StepOptions,
    line,
  };
};

/** A step without an id is called after what it does; the second of that name gets "-2". */
const withIds = (drafts: readonly StepDraft[]): readonly NamedStep[] => {
  const seen = new Map<string, number>();
  return drafts.map((draft) => {
    const base = draft.id ?? draft.base;
    const count = (seen.get(base) ?? 0) + 1;
    seen.set(base, count);
    return { ...draft, id: draft.id ?? (count === 1 ? base : `${base}-${count}`) };
  });
};

const repeatedIds = (file: DataFile, steps: readonly NamedStep[]): readonly Problem[] =>
  steps.flatMap(({ id }, index) =>
    steps.findIndex((other) => other.id === id) < index
      ? [problemAt(file, ["steps", index, "id"], { message: `a step called "${id}" came before` })]
      : [],
  );

/** Work with the mains off leaves a fixture that first has to come up again. */
const unpowered = (file: DataFile, steps: readonly NamedStep[]): readonly Problem[] =>
  steps.flatMap((step, index) => {
    const before = steps.slice(0, index);
    const off = before
      .slice(before.findLastIndex((one) => "routine" in one) + 1)
      .some((one) => "work" in one && needsMainsOff(one.work));
    if (!("routine" in step) || step.routine === "power-up" || !off) return [];
    return [
      problemAt(file, ["steps", index], {
        message: "the mains was off for the work before this step",
        hint: "power-up: fixture, before it",
        at: "key",
      }),
    ];
  });

const sorted = (drafts: readonly NamedStep[]): Pick<Sequence, "steps" | "byHand"> => {
  const steps: Step[] = [];
  const byHand: HandStep[] = [];
  for (const { base: _, ...step } of drafts)
    if ("work" in step) byHand.push({ ...step, before: steps.length });
    else steps.push(step);
  return { steps, byHand };
};
