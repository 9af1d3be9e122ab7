import { entriesOf } from "../../../domain/keys.ts";
import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "../schema.ts";

/**
 * A profile from a newer file, with what was measured for the older one: times, currents and lamp, of every function that still
 * has the same slots and ends.
 */
export const withMeasured = (older: ProfileFile, newer: ProfileFile): ProfileFile => ({
  ...newer,
  power_up_s: older.power_up_s,
  lamp: older.lamp.kind === newer.lamp.kind ? older.lamp : newer.lamp,
  ...(older.power ? { power: older.power } : {}),
  ...(older.unit_loads ? { unit_loads: older.unit_loads } : {}),
  functions: Object.fromEntries(
    entriesOf(newer.functions).map(([id, spec]) => {
      const before = older.functions[id];
      return [id, before && isSame(before, spec) ? { ...spec, ...measuredOf(before) } : spec];
    }),
  ),
});

/** What stands in no maker's file. */
const MEASURED = ["full_travel_s", "lag_s", "sharp_pct", "step_s", "move_s"];

const measuredOf = (spec: FunctionFile): Partial<FunctionFile> =>
  Object.fromEntries(Object.entries(spec).filter(([key]) => MEASURED.includes(key)));

/** Alike in all that a maker's file says. */
const isSame = (one: FunctionFile, other: FunctionFile): boolean => chartOf(one) === chartOf(other);

const chartOf = (spec: FunctionFile): string =>
  JSON.stringify(
    Object.entries(spec)
      .filter(([key]) => !MEASURED.includes(key))
      .toSorted(([a], [b]) => (a < b ? -1 : 1)),
  );

/** What a newer file says otherwise, a line for each: what a technician has to look at again. */
export const changesBetween = (older: ProfileFile, newer: ProfileFile): readonly string[] => {
  const ids = [...new Set([...entriesOf(older.functions), ...entriesOf(newer.functions)].map(([id]) => id))];
  return [
    ...(older.slots === newer.slots ? [] : [`${newer.slots} slots, before ${older.slots}`]),
    ...ids.flatMap((id) => functionChanges(id, older.functions[id], newer.functions[id])),
    ...(JSON.stringify(heldOf(older)) === JSON.stringify(heldOf(newer))
      ? []
      : ["other slots are held, or at other values"]),
  ];
};

const heldOf = ({ held = [] }: ProfileFile) => held.map(({ slots, at }) => [slots, at]);

const functionChanges = (id: FunctionId, older?: FunctionFile, newer?: FunctionFile): readonly string[] => {
  if (older === undefined) return [`${id} is new`];
  if (newer === undefined) return [`${id} is gone`];
  if (isSame(older, newer)) return [];
  const [before, now] = [
    new Map<string, unknown>(Object.entries(older)),
    new Map<string, unknown>(Object.entries(newer)),
  ];
  const keys = [...new Set([...before.keys(), ...now.keys()])].filter((key) => !MEASURED.includes(key));
  return keys.flatMap((key) => {
    const [was, is] = [JSON.stringify(before.get(key)), JSON.stringify(now.get(key))];
    return was === is ? [] : [`${id}: ${key} ${short(is)}, before ${short(was)}`];
  });
};

const short = (value: string | undefined): string =>
  value === undefined ? "none" : value.length > 60 ? `${value.slice(0, 57)}...` : value;
