import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { Member } from "../../run/batch/batch.ts";
import type { Deed } from "../../run/batch/change.ts";
import { HEALTHY } from "../../sim/fixture.ts";
import { type Plugged, SimLine } from "../../sim/line.ts";
import { setFaults } from "../../sim/physical/faults.ts";
import type { InView } from "../../sim/rack-watcher.ts";
import { framesBefore, passMeanwhile, setProblems } from "../simulated/sim-bench.ts";
import { simulatedBuild } from "../simulated/simulated-build.ts";

/** The simulated fixtures of a rack on their simulated DMX lines. */
export interface SimRack {
  readonly lines: ReadonlyMap<number, SimLine>;
  /** In the order of the rack; undefined for a real one. */
  readonly fixtures: readonly (InView | undefined)[];
  readonly byHand: (deed: Deed) => void;
}

/**
 * The simulated fixtures of a rack: every one whose universe is simulated, with its faults by serial number.
 * Refused where a fault is not known or a serial number is not in the rack. `seed` is any whole number, from
 * which each fixture has one of its own.
 */
export const simRack = (
  members: readonly Member[],
  set: ReadonlyMap<string, readonly string[]>,
  seed: number,
): Result<SimRack> => {
  const simulated = members.filter(({ session }) => session.job.opening.simulated);
  const plugged = new Map(simulated.map((member, index) => [member.serial, pluggedFor(member, set, seed + index)]));
  const problems = [...strangers(simulated, set), ...[...plugged.values()].flatMap(({ wrong }) => wrong)];
  if (problems.length > 0) return bad(...problems);
  const universes = [...new Set(simulated.map(({ spot }) => spot.universe))];
  const on = (universe: number) => simulated.filter(({ spot }) => spot.universe === universe);
  const lines = new Map(universes.map((universe) => [universe, lineOf(on(universe), plugged)]));
  const fixtures = members.map((member): InView | undefined => {
    const { spot, serial } = member;
    const [line, one] = [lines.get(spot.universe), plugged.get(serial)];
    return line && one ? { line, which: on(spot.universe).indexOf(member), build: one.plugged.build } : undefined;
  });
  return good({ lines, fixtures, byHand: handsOn(members, fixtures) });
};

const pluggedFor = (
  { spot, session }: Member,
  set: ReadonlyMap<string, readonly string[]>,
  seed: number,
): { readonly plugged: Plugged; readonly wrong: readonly Problem[] } => {
  const build = simulatedBuild(spot.profile, spot.address);
  const made = setFaults(build, set.get(session.job.opening.fixture.serial) ?? [], seed);
  const { attitude } = session.job.bench;
  return {
    plugged: { build, options: { ...HEALTHY, troubles: made.troubles, seed, attitude } },
    wrong: setProblems(made),
  };
};

const strangers = (simulated: readonly Member[], set: ReadonlyMap<string, readonly string[]>): readonly Problem[] => {
  const serials = simulated.map(({ serial }) => serial);
  return [...set.keys()].flatMap((serial) =>
    serials.includes(serial)
      ? []
      : [problem("--set", `there is no simulated fixture "${serial}" in this rack`, hintFor(serial, serials))],
  );
};

const lineOf = (members: readonly Member[], plugged: ReadonlyMap<string, { readonly plugged: Plugged }>): SimLine => {
  const line = new SimLine(members.flatMap(({ serial }) => plugged.get(serial)?.plugged ?? []));
  line.mains("off");
  return line;
};

/** What a person does at a fixture, done to the simulated one. */
const handsOn = (members: readonly Member[], fixtures: readonly (InView | undefined)[]) => {
  const serials = members.map(({ serial }) => serial);
  const at = (serial: string): InView | undefined => fixtures[serials.indexOf(serial)];
  return (deed: Deed): void => {
    switch (deed.kind) {
      case "mains-on":
        for (const serial of deed.serials) at(serial)?.line.mains("on", [at(serial)?.which ?? 0]);
        return;
      case "address-set":
        at(deed.serial)?.line.setAddress(at(deed.serial)?.which ?? 0, deed.address);
        return;
      case "swapped": {
        const place = at(deed.serial);
        serials[serials.indexOf(deed.serial)] = deed.by;
        place?.line.swap(place.which, { build: place.build, options: HEALTHY });
        return;
      }
      case "mains-off":
        for (const serial of deed.serials) at(serial)?.line.mains("off", [at(serial)?.which ?? 0]);
        return;
      case "mended":
        return;
      default:
        deed satisfies never;
    }
  };
};

/**
 * Switches the mains of simulated fixtures on at once, where that is not to be done in the run:
 * they are up, lit and warm when it begins.
 */
export const warmUpRack = (rack: SimRack, members: readonly Member[]): void => {
  for (const { line, frames } of goingUp(rack, members)) line.pass(frames);
};

/** Warms simulated fixtures up bit by bit, while the person reads the first page, which would else wait for it. */
export const warmUpRackMeanwhile = (rack: SimRack, members: readonly Member[]): void => {
  for (const { line, frames } of goingUp(rack, members)) passMeanwhile(line, frames);
};

/** Switches their mains on, and says how much time of theirs is still to pass. */
const goingUp = ({ lines, fixtures }: SimRack, members: readonly Member[]) =>
  [...lines.values()].map((line) => {
    const on = members.flatMap(({ session }, index) => (fixtures[index]?.line === line ? [{ session, index }] : []));
    const up = on.filter(({ session }) => framesBefore(session) > 0);
    line.mains(
      "on",
      up.map(({ index }) => fixtures[index]?.which ?? 0),
    );
    return { line, frames: Math.max(0, ...up.map(({ session }) => framesBefore(session))) };
  });
