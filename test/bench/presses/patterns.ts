import { type Assessment, assess } from "../../../src/diagnosis/places/assessment.ts";
import { followUps } from "../../../src/diagnosis/places/follow-up.ts";
import { compileStep } from "../../../src/plan/compile.ts";
import type { CompiledStep } from "../../../src/plan/timeline.ts";
import { chanceFrom, type SimDraw } from "../../../src/sim/chance.ts";
import type { Truth } from "../../diagnosis/places/kit/presser.ts";
import { bench, spot, stepOf } from "../../diagnosis/places/kit/rig.ts";
import { ordinary, watched } from "../../diagnosis/places/kit/session.ts";
import { type Row, row } from "../line/row.ts";

interface Setting {
  readonly words: string;
  readonly right: string;
  readonly truth: (chance: SimDraw) => Truth;
}

const SETTINGS: readonly Setting[] = [
  { words: "one place", right: "position", truth: (chance) => ({ kind: "position", place: -200 + 400 * chance() }) },
  {
    words: "one way at a place",
    right: "one-way",
    truth: (chance) => ({ kind: "one-way", place: -200 + 400 * chance(), way: chance() < 0.5 ? "up" : "down" }),
  },
  {
    words: "one way, 10 to 30 deg from the low end, going up",
    right: "one-way",
    truth: (chance) => ({ kind: "one-way", place: -260 + 20 * chance(), way: "up" }),
  },
  {
    words: "one way, 10 to 30 deg from the low end, going down",
    right: "one-way",
    truth: (chance) => ({ kind: "one-way", place: -260 + 20 * chance(), way: "down" }),
  },
  {
    words: "one way, all along",
    right: "one-way",
    truth: (chance) => ({ kind: "all-along", way: chance() < 0.5 ? "up" : "down" }),
  },
  { words: "low end", right: "low-end", truth: () => ({ kind: "ends", low: true, high: false }) },
  { words: "high end", right: "high-end", truth: () => ({ kind: "ends", low: false, high: true }) },
  { words: "both ends", right: "both-ends", truth: () => ({ kind: "ends", low: true, high: true }) },
  { words: "every turn-round", right: "turn-rounds", truth: () => ({ kind: "turn-rounds" }) },
  { words: "no place", right: "no-place", truth: (chance) => ({ kind: "no-place", perSecond: 0.05 + 0.2 * chance() }) },
];

/**
 * What is said of what was set, as percent of runs: ours after the follow-up test that the rig itself proposes, other after 5
 * full passes each way alone. The follow-up is played only where it is not settled, and is a short sweep for the ends.
 */
export const patternRows = (seeds: number): readonly Row[] => {
  const full = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
  return SETTINGS.flatMap(({ words, right, truth }) => {
    const runs = Array.from({ length: seeds }, (_, seed) => runOf(full, truth, chanceFrom(seed * 104729 + 7)));
    const share = (said: string, of: "before" | "after") =>
      (100 * runs.filter((run) => run[of] === said).length) / seeds;
    const names = [...new Set(runs.flatMap(({ before, after }) => [before, after]))].sort();
    return [
      ...names.map((said) =>
        row(
          `simulated, ${words}: said ${said}${said === right ? " (right)" : ""}`,
          "% of runs",
          share(said, "after"),
          share(said, "before"),
        ),
      ),
      row(
        `simulated, ${words}: a short sweep was the follow-up`,
        "% of runs",
        (100 * runs.filter((run) => run.short).length) / seeds,
      ),
    ];
  });
};

const runOf = (full: CompiledStep, truth: Setting["truth"], chance: SimDraw) => {
  const [set, watcher] = [truth(chance), ordinary(chance)];
  const first = watched([full], set, watcher, chance);
  const before = assess(first);
  const next =
    before && !before.settled ? followUps({ profile: spot, bench, before: spot.rest }, "Pan", before)[0] : undefined;
  const step = next && compileStep(spot, bench, next.step, spot.rest, 1);
  const after = step ? assess([...first, ...watched([step], set, watcher, chance)]) : before;
  return { before: saidOf(before), after: saidOf(after), short: next?.kind === "short-sweep" };
};

const saidOf = (found: Assessment | undefined): string =>
  found ? (found.settled?.pattern.kind ?? "not settled") : "nothing pressed";
