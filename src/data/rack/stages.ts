import type { Seconds } from "../../domain/units.ts";
import { inParts } from "./groups.ts";
import type { RackFixture } from "./rack.ts";
import type { Start, StartPlan } from "./starts.ts";

/** Fixtures whose mains goes on at once, and who are then watched until they are up. */
export interface MainsStage {
  readonly fixtures: readonly RackFixture[];
  /** It comes so long after the stage before it at the soonest, as the circuits want it. */
  readonly after: Seconds;
}

/**
 * The order of a start plan in as few stages as it allows, each watched to its end before the next: whoever may go on by
 * then goes on, whichever circuit it hangs on. Within a circuit nobody comes closer to those before it than in the plan.
 *
 * @param most how many fixtures have a key of their own on the screen, at least 1: no stage has more @param upIn how
 * long a fixture is watched until it is up
 */
export const stagesOf = (
  { starts, uncounted }: Pick<StartPlan, "starts" | "uncounted">,
  most: number,
  upIn: (fixture: RackFixture) => Seconds,
): readonly MainsStage[] => {
  const waiting = starts.flatMap(({ at, fixtures }) => fixtures.map((fixture) => ({ at, fixture })));
  const on: SwitchedOn[] = [];
  const stages: MainsStage[] = [];
  for (let before = 0, earliest = 0; waiting.length > 0; ) {
    const readyAt = waiting.map((one) => readyAfter(on, waiting, one));
    const now = Math.max(earliest, Math.min(...readyAt));
    const some = waiting.filter((_, index) => (readyAt[index] ?? now) <= now).slice(0, most);
    const wanted = Math.max(...some.map((one) => readyAfter(on, waiting, one)));
    stages.push({ fixtures: some.map(({ fixture }) => fixture), after: Math.max(0, wanted - before) });
    on.push(...some.map((one) => ({ ...one, since: now })));
    waiting.splice(0, waiting.length, ...waiting.filter((one) => !some.includes(one)));
    before = now;
    earliest = now + Math.max(...some.map(({ fixture }) => upIn(fixture)));
  }
  return [...stages, ...inParts(uncounted, most).map((fixtures) => ({ fixtures, after: 0 }))];
};

interface InPlan {
  readonly at: Start["at"];
  readonly fixture: RackFixture;
}
interface SwitchedOn extends InPlan {
  readonly since: Seconds;
}

/** When the plan's distance to everybody before it on its circuit is kept; never while one of these still waits. */
const readyAfter = (on: readonly SwitchedOn[], waiting: readonly InPlan[], one: InPlan): Seconds => {
  const before = ({ at, fixture }: InPlan): boolean => fixture.circuit === one.fixture.circuit && at < one.at;
  if (waiting.some(before)) return Number.POSITIVE_INFINITY;
  return Math.max(0, ...on.filter(before).map(({ at, since }) => since + one.at - at));
};
