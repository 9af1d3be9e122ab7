import { entriesOf } from "../../domain/keys.ts";
import { type DataFile, type Path, problemAt } from "../../domain/problem/document.ts";
import { hintFor, type Problem } from "../../domain/problem/problem.ts";
import { FUNCTION_IDS, type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import { cellsOf, darkenedBy, type FunctionSpec, fullRaw } from "./profile.ts";
import type { ProfileFile } from "./schema.ts";

/** What a well-formed profile can still have wrong: slots that clash, bands that overlap, positions out of order, no way to go dark. */
export const checkProfile = (file: DataFile, written: WrittenProfile, functions: Functions): readonly Problem[] => [
  ...slotProblems(file, written, functions),
  ...[...functions].flatMap(([id, spec]) => (spec.kind === "banded" ? overlappingBands(file, id, spec) : [])),
  ...[...functions].flatMap(([id, spec]) => (spec.kind === "wheel" ? positionsOutOfOrder(file, id, spec) : [])),
  ...[...functions].flatMap(([id, spec]) =>
    spec.kind === "travel" && spec.from === spec.to ? [noTravel(file, id)] : [],
  ),
  ...startsBelowRunning(file, written),
  ...restProblems(file, written, functions),
  ...(functions.size === Object.keys(written.functions).length ? noWayToGoDark(file, functions) : []),
];

const overlappingBands = (
  file: DataFile,
  id: FunctionId,
  spec: Extract<FunctionSpec, { kind: "banded" }>,
): readonly Problem[] =>
  spec.bands.flatMap((band, index) => {
    const path = ["functions", id, "bands", index];
    if (band.to < band.from)
      return [problemAt(file, path, { message: `runs backwards, from ${band.from} to ${band.to}` })];
    const clash = spec.bands.slice(0, index).find((other) => band.from <= other.to && other.from <= band.to);
    return clash ? [problemAt(file, path, { message: `overlaps the band ${clash.from} to ${clash.to}` })] : [];
  });

const positionsOutOfOrder = (
  file: DataFile,
  id: FunctionId,
  spec: Extract<FunctionSpec, { kind: "wheel" }>,
): readonly Problem[] =>
  spec.positions.flatMap(({ at }, index) => {
    const before = spec.positions[index - 1];
    return before && at <= before.at
      ? [
          problemAt(file, ["functions", id, "positions", index], {
            message: `position at ${at} does not come after the one at ${before.at}`,
          }),
        ]
      : [];
  });

const noTravel = (file: DataFile, id: FunctionId): Problem =>
  problemAt(file, ["functions", id], { message: "both ends are the same place", at: "key" });

const startsBelowRunning = (file: DataFile, { power }: WrittenProfile): readonly Problem[] =>
  power && power.starting_a < power.running_a
    ? [
        problemAt(file, ["power", "starting_a"], {
          message: `less while starting than the ${power.running_a} A while running`,
          hint: `at least ${power.running_a}`,
        }),
      ]
    : [];

const restProblems = (file: DataFile, written: WrittenProfile, functions: Functions): readonly Problem[] =>
  entriesOf(written.rest).flatMap(([id, rest]) => {
    const spec = functions.get(id);
    const path = ["rest", id];
    if (!spec && id in written.functions) return [];
    if (!spec)
      return [
        problemAt(file, path, {
          message: `this fixture has no ${id}`,
          hint: hintFor(
            id,
            FUNCTION_IDS.filter((known) => functions.has(known)),
          ),
          at: "key",
        }),
      ];
    if (typeof rest === "number") return [];
    if (spec.kind === "banded" && spec.bands.some(({ is }) => is === rest)) return [];
    return [
      problemAt(file, path, {
        message: `${id} has no band "${rest}"`,
        hint:
          spec.kind === "banded"
            ? hintFor(
                rest,
                spec.bands.map(({ is }) => is),
              )
            : undefined,
      }),
    ];
  });

/** Between steps and at every ending Limber goes dark: with the shutter, else the dimmer, else with all emitters at nothing. */
const noWayToGoDark = (file: DataFile, functions: Functions): readonly Problem[] =>
  darkenedBy(functions).length > 0
    ? []
    : [
        problemAt(file, ["functions"], {
          message:
            'no way to go dark: needs a Shutter1 with the bands "closed" and "open", a Dimmer, or emitters (ColorAdd_R and the like)',
          at: "key",
        }),
      ];

/** The frame of a profile file; its functions may still be ill formed. */
type WrittenProfile = Omit<ProfileFile, "functions"> & { readonly functions: Readonly<Record<string, unknown>> };

type Functions = ReadonlyMap<FunctionId, FunctionSpec>;

/** Slots that clash or lie past the end of the mode, and values that their slots cannot hold. */
const slotProblems = (file: DataFile, written: WrittenProfile, functions: Functions): readonly Problem[] => [
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

const slotsTaken = (written: WrittenProfile, functions: Functions): readonly Taken[] => [
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
  written: WrittenProfile,
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
