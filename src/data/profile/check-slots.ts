import { type DataFile, type Path, problemAt } from "../../domain/problem/document.ts";
import type { Problem } from "../../domain/problem/problem.ts";
import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import { cellsOf, type FunctionSpec, fullRaw } from "./profile.ts";
import type { ProfileFile } from "./schema.ts";

/** The frame of a profile file; its functions may still be ill formed. */
export type Written = Omit<ProfileFile, "functions"> & { readonly functions: Readonly<Record<string, unknown>> };

export type Functions = ReadonlyMap<FunctionId, FunctionSpec>;

/** Slots that clash or lie past the end of the mode, and values that their slots cannot hold. */
export const slotProblems = (file: DataFile, written: Written, functions: Functions): readonly Problem[] => [
  ...slotsTaken(written, functions).flatMap((taken, index, all) =>
    slotProblem(file, written, taken, all.slice(0, index)),
  ),
  ...[...functions].flatMap(([id, spec]) => [...unlikeCells(file, id, spec), ...endProblems(file, id, spec)]),
  ...(written.held ?? []).flatMap((held, index) =>
    held.at > fullRaw(held) ? [problemAt(file, ["held", index, "at"], { message: tooHigh(held) })] : [],
  ),
];

interface Taken {
  readonly slot: number;
  readonly by: string;
  readonly path: Path;
}

const slotsTaken = (written: Written, functions: Functions): readonly Taken[] => [
  ...[...functions].flatMap(([id, spec]) =>
    cellsOf(spec).flatMap((cell, of) =>
      cell.map((slot, n) => ({
        slot,
        by: `${id} (${functionWords(id)})`,
        path: ["functions", id, ...(of === 0 ? ["slots"] : ["cells", of - 1]), n],
      })),
    ),
  ),
  ...(written.held ?? []).flatMap(({ slots, is }, index) =>
    slots.map((slot, n) => ({ slot, by: `"${is}", which is held`, path: ["held", index, "slots", n] })),
  ),
];

const slotProblem = (
  file: DataFile,
  written: Written,
  { slot, path }: Taken,
  before: readonly Taken[],
): readonly Problem[] => {
  const owner = before.find((other) => other.slot === slot);
  return [
    ...(slot > written.slots
      ? [problemAt(file, path, { message: `slot ${slot} is past the ${written.slots} slots of this mode` })]
      : []),
    ...(owner ? [problemAt(file, path, { message: `slot ${slot} already belongs to ${owner.by}` })] : []),
  ];
};

/** Cells that are driven alike take the same number of slots. */
const unlikeCells = (file: DataFile, id: FunctionId, spec: FunctionSpec): readonly Problem[] =>
  cellsOf(spec).flatMap((cell, of) =>
    cell.length === spec.slots.length
      ? []
      : [
          problemAt(file, ["functions", id, "cells", of - 1], {
            message: `a cell takes ${spec.slots.length === 1 ? "1 slot" : `${spec.slots.length} slots`}, as the first does`,
          }),
        ],
  );

const endProblems = (file: DataFile, id: FunctionId, spec: FunctionSpec): readonly Problem[] => {
  if (spec.kind !== "travel") return [];
  if (spec.high > fullRaw(spec))
    return [problemAt(file, ["functions", id, "to_raw"], { message: tooHigh({ slots: spec.slots, at: spec.high }) })];
  return spec.low < spec.high
    ? []
    : [
        problemAt(file, ["functions", id, "from_raw"], {
          message: `does not come before the other end at ${spec.high}`,
        }),
      ];
};

const tooHigh = ({ slots, at }: { readonly slots: readonly number[]; readonly at: number }): string =>
  `${at} is more than ${slots.length === 1 ? "one slot holds" : `${slots.length} slots hold`}, ${fullRaw({ slots })}`;
