import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import { type Frame, framesIn } from "../../domain/units.ts";
import type { Deed } from "../../run/batch/change.ts";
import type { Spectacle } from "../../run/ports.ts";
import type { Session } from "../../run/session/session.ts";
import type { Copy } from "../../sim/assemble.ts";
import type { FixtureBuild } from "../../sim/build.ts";
import { HEALTHY } from "../../sim/fixture.ts";
import { SimLine } from "../../sim/line.ts";
import { foundByHand } from "../../sim/physical/by-hand.ts";
import { PHYSICAL_FAULTS, type SetFaults, setFaults } from "../../sim/physical/faults.ts";
import { Show } from "../../sim/spectacle.ts";
import type { Hands } from "../../sim/watcher.ts";
import type { Material } from "../common/data.ts";
import { RIGHT_ANSWERS } from "./right-answers.ts";
import { simulatedBuild } from "./simulated-build.ts";

/** A simulated fixture on a simulated DMX line, its mains still off. */
export interface SimBench {
  readonly line: SimLine;
  readonly build: FixtureBuild;
  /** Ids of the faults that were set. */
  readonly set: readonly string[];
  readonly hands: SimHands;
}

export interface SimOrder {
  readonly address: number;
  /** Faults to set; undefined: one is drawn by the seed. */
  readonly set: readonly string[] | undefined;
  /** Says which fault is drawn, and where and how bad the faults are. */
  readonly seed: number;
  readonly drawFrom: "all" | "plain-to-see";
  /** As drawn, or as made: with the tolerances and small noises that no two fixtures share. */
  readonly copy: Copy;
}

/** A simulated fixture with its faults on a simulated DMX line; or which faults cannot be set in it. */
export const simBench = (
  { profile, bench }: Material,
  { address, set, seed, drawFrom, copy }: SimOrder,
): Result<SimBench> => {
  const build = simulatedBuild(profile.value, address);
  const made = setFaults(build, set ?? drawn(build, seed, drawFrom), seed);
  const wrong = setProblems(made);
  if (wrong.length > 0) return bad(...wrong);
  const plugged = (troubles: SetFaults["troubles"]) => ({
    build,
    options: { ...HEALTHY, troubles, seed, copy, attitude: bench.value.attitude },
  });
  const line = new SimLine([plugged(made.troubles)]);
  line.mains("off");
  const ids = made.set.map(({ id }) => id);
  const hands = simHands(ids, {
    mains: (is) => line.mains(is),
    found: (left) => foundByHand(left, setFaults(build, left, seed).troubles),
    refit: (left) => {
      line.swap(0, plugged(setFaults(build, left, seed).troubles));
      line.mains("off");
    },
  });
  return good({ line, build, set: ids, hands });
};

/**
 * The faults, of those in `ids`, that this fixture can have. `seed` is any whole number;
 * it decides only how bad they would be.
 */
export const settable = (
  build: FixtureBuild,
  seed: number,
  ids: readonly string[] = PHYSICAL_FAULTS.map(({ id }) => id),
): readonly string[] => ids.filter((id) => setFaults(build, [id], seed).set.length > 0);

/** Faults that show plainly in a first look at everything, for somebody who meets Limber for the first time. */
const PLAIN_TO_SEE: readonly string[] = [
  "tilt-drive-slack",
  "pan-drive-slack",
  "colour-sensor-shifted",
  "rotating-wheel-gummed",
  "gobo-spring-sprung",
  "iris-leaf-kinked",
  "prism-arm-bent",
  "zoom-rods-dry",
  "focus-rod-bent",
  "menu-pan-reversed",
  "lenses-grimy",
];

const drawn = (build: FixtureBuild, seed: number, from: SimOrder["drawFrom"]): readonly string[] => {
  const possible = settable(build, seed).filter((id) => from === "all" || PLAIN_TO_SEE.includes(id));
  const one = possible[Math.abs(Math.trunc(seed)) % Math.max(1, possible.length)];
  return one === undefined ? [] : [one];
};

/** Which faults could not be set: unknown ones, and those that this fixture cannot have. */
export const setProblems = ({ unknown, notApplicable }: SetFaults): readonly Problem[] => {
  const known = PHYSICAL_FAULTS.map(({ id }) => id);
  return [
    ...unknown.map((id) =>
      problem("--set", `"${id}" cannot be set`, hintFor(id, known) ?? `known: none, ${known.join(", ")}`),
    ),
    ...notApplicable.map((id) => problem("--set", `"${id}" needs something that this fixture does not have`)),
  ];
};

/** What hands find and do on a simulated fixture: looks answer from what is still set in it, and a repair takes that out. */
interface SimHands extends Hands {
  readonly did: (deed: Deed) => void;
}

/** The simulated fixture as hands can reach it. */
interface InReach {
  readonly mains: (is: "on" | "off") => void;
  /** The looks that come out bad while these are set. */
  readonly found: (left: readonly string[]) => ReadonlySet<InspectionId>;
  /** Another fixture of the same build in its place, with only these faults. */
  readonly refit: (left: readonly string[]) => void;
}

/** Hands at a simulated fixture that has these faults. */
const simHands = (set: readonly string[], fixture: InReach): SimHands => {
  let left = set;
  let found = fixture.found(left);
  const mend = (fault: FaultId): void => {
    left = withoutMended(left, fault);
    found = fixture.found(left);
    fixture.refit(left);
  };
  return {
    look: (id) => (found.has(id) ? "bad" : "good"),
    name: (choices) => choices.find((choice) => left.some((one) => RIGHT_ANSWERS[one]?.includes(choice))),
    did: (deed) => {
      if (deed.kind === "mains-on") fixture.mains("on");
      else if (deed.kind === "mains-off") fixture.mains("off");
      else if (deed.kind === "mended") mend(deed.fault);
    },
  };
};

/** The faults that are left in a simulated fixture after a repair. */
export const withoutMended = (set: readonly string[], fault: FaultId): readonly string[] =>
  set.filter((id) => !RIGHT_ANSWERS[id]?.includes(fault));

/** What the simulated fixture shows just now, for the screen of a person; asked as often as it is drawn. */
export const sightOf = (line: SimLine): (() => readonly [Spectacle]) => {
  const show = new Show();
  line.scenes(([first]) => first && show.see(first.scene));
  return () => [show.now() ?? NOTHING_YET];
};

const NOTHING_YET: Spectacle = { parts: [], sounds: [], light: "dark", display: "" };

/**
 * How many frames of its life a simulated fixture has behind it when a run begins or goes on: none when its mains is still
 * to be switched on in the run, else it is up, lit and warm.
 */
export const framesBefore = ({ job, view }: Session): Frame => {
  const { profile, steps } = job.timeline;
  const next = steps.find(({ fitted, id }) => fitted && !view.steps.find((step) => step.id === id)?.judged);
  return next?.routine === "power-up" ? 0 : framesIn(profile.powerUp + profile.lamp.strike + profile.lamp.warm);
};

/** Switches the mains of a simulated fixture on and lets `frames` frames pass at once. */
export const warmUp = (line: SimLine, frames: Frame): void => {
  if (frames === 0) return;
  line.mains("on");
  line.pass(frames);
};

/**
 * Switches the mains of a simulated fixture on and lets `frames` frames pass bit by bit, while the person reads the
 * first page, which would else wait for it.
 */
export const warmUpMeanwhile = (line: SimLine, frames: Frame): void => {
  if (frames > 0) line.mains("on");
  passMeanwhile(line, frames);
};

/** Lets time pass for simulated fixtures, a bit whenever nothing else is to be done. */
export const passMeanwhile = (line: SimLine, frames: Frame): void => {
  const bit = Math.min(frames, 100);
  line.pass(bit);
  if (frames > bit) setTimeout(passMeanwhile, 1, line, frames - bit);
};
