import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { silentVoice } from "../../io/voice/speech.ts";
import type { Spectacle, Voice, Watcher } from "../../run/ports.ts";
import { SimulatedRackWatcher } from "../../sim/rack-watcher.ts";
import { Show } from "../../sim/spectacle.ts";
import { type PersonOptions, personHere } from "../fixture/person.ts";
import type { ReadyRack } from "./rack-job.ts";
import type { SimRack } from "./rack-sim.ts";

/** Who watches a rack. */
export interface RackEyes {
  readonly watcher: (frame: () => number) => Watcher;
  readonly voice: Voice;
  close(): void;
}

export interface RackEyesOptions extends Pick<PersonOptions, "plain" | "distance" | "phone"> {
  readonly watcher: number | undefined;
  readonly fast: boolean;
}

/** Why nobody could watch with these options; said before anything else. */
export const unwatchable = (
  { watcher, fast }: Pick<RackEyesOptions, "watcher" | "fast">,
  { sim, job }: ReadyRack,
): readonly Problem[] => {
  const simulated = sim.fixtures.filter((one) => one !== undefined).length;
  if (watcher !== undefined && simulated < job.members.length)
    return [problem("--watcher", "only where every fixture is simulated", "--output sim")];
  return fast && watcher === undefined
    ? [problem("--fast", "nobody can watch faster than real time", "--watcher SEED lets the simulated watcher watch")]
    : [];
};

/**
 * Who watches a rack: the simulated watcher where one was asked for, else the person at this terminal;
 * or the problem that nobody could watch.
 */
export const rackEyes = async (options: RackEyesOptions, ready: ReadyRack): Promise<Result<RackEyes>> => {
  const { watcher, plain, distance, phone } = options;
  const { sim, bench } = ready;
  const wrong = unwatchable(options, ready);
  if (wrong.length > 0) return bad(...wrong);
  const fixtures = sim.fixtures.filter((one) => one !== undefined);
  if (watcher !== undefined)
    return good({
      watcher: () => new SimulatedRackWatcher(fixtures, watcher),
      voice: silentVoice,
      close: () => {},
    });
  const spectacle = fixtures.length > 0 ? sightsOf(sim) : undefined;
  return personHere({
    bench,
    line: fixtures.length < ready.job.members.length ? "real" : "simulated",
    plain,
    distance,
    spectacle,
    phone,
  });
};

/** What every simulated fixture shows just now; asked as often as it is drawn. */
const sightsOf = ({ fixtures }: SimRack): (() => readonly (Spectacle | undefined)[]) => {
  const shows = fixtures.map(() => new Show());
  for (const [index, seen] of fixtures.entries())
    seen?.line.scenes((comparisons) => {
      const now = comparisons[seen.which];
      if (now) shows[index]?.see(now.scene);
    });
  return () => shows.map((show) => show.now());
};
