import type { Batch } from "../batch/batch.ts";
import type { RackInput } from "../batch/input.ts";
import type { Spectacle, Voice, Watcher } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import { SimulatedRackWatcher } from "../sim/rack-watcher.ts";
import { spectacleOf } from "../sim/spectacle.ts";
import { silentVoice } from "../voice/silent.ts";
import { type PersonOptions, personBefore } from "./person.ts";
import type { ReadyRack } from "./rack-prepare.ts";
import type { SimRack } from "./rack-sim.ts";

/** Who watches a rack. */
export interface RackEyes {
  readonly watcher: (frame: () => number) => Watcher<Batch, RackInput>;
  readonly voice: Voice;
  close(): void;
}

export interface RackEyesOptions extends Pick<PersonOptions, "plain" | "distance"> {
  readonly watcher: number | undefined;
  readonly fast: boolean;
}

/** The simulated watcher where one was asked for, else the person at this terminal. */
export const rackEyes = async (
  { watcher, fast, plain, distance }: RackEyesOptions,
  { sim, job, bench }: ReadyRack,
): Promise<Result<RackEyes>> => {
  const fixtures = sim.fixtures.filter((one) => one !== undefined);
  if (watcher !== undefined) {
    if (fixtures.length < job.members.length)
      return bad(problem("--watcher", "only where every fixture is simulated", "--output sim"));
    return good({
      watcher: () => new SimulatedRackWatcher(fixtures, watcher),
      voice: silentVoice,
      close: () => {},
    });
  }
  if (fast)
    return bad(
      problem("--fast", "nobody can watch in no real time", "--watcher SEED lets the simulated watcher watch"),
    );
  const spectacle = fixtures.length > 0 ? sightsOf(sim) : undefined;
  return personBefore(
    { bench, plain, distance, spectacle },
    {
      drawn: async () => (await import("../screen/rack-screen.ts")).rackScreen,
      plain: async () => (await import("../screen/rack-plain.ts")).rackPlainScreen,
    },
  );
};

/** What every simulated fixture shows just now; asked as often as it is drawn. */
const sightsOf = ({ fixtures }: SimRack): (() => readonly (Spectacle | undefined)[]) => {
  const last: (() => Spectacle)[] = [];
  for (const [index, seen] of fixtures.entries())
    seen?.line.scenes((comparisons) => {
      const now = comparisons[seen.which];
      if (now) last[index] = () => spectacleOf(now.scene);
    });
  return () => fixtures.map((_, index) => last[index]?.());
};
