import fc from "fast-check";
import type { RunEvent } from "../../../src/run/events/event.ts";
import { eventsOf, foundBody, type Happened, judgedBody } from "../../run/memory/happened.ts";

/** Runs of a few fixtures at two benches, with finds, corrections and replays, their events written in any order between runs. */
export const lives: fc.Arbitrary<readonly RunEvent[]> = fc
  .array(
    fc.record({
      serial: fc.constantFrom("A-1", "A-2", "unknown"),
      bench: fc.constantFrom("one", "two"),
      simulated: fc.boolean(),
      result: fc.constantFrom("pass", "fail", "unsure", "not-fitted"),
      replays: fc.option(fc.nat(5), { nil: undefined }),
      after: fc.subarray([
        foundBody("pan-belt-slack"),
        { kind: "step-corrected", step: "sweep Pan", attempt: 1 } as const,
        judgedBody("Pan", "pass"),
        { kind: "inspected", inspection: "pan-belt-tension", answer: "bad", note: "" } as const,
      ]),
      ended: fc.constantFrom("finished", "stopped", "open"),
    }),
    { maxLength: 6 },
  )
  .chain((runs) =>
    mixed(
      runs
        .map(({ result, replays, ...one }, n): Happened & { readonly run: string } => ({
          ...one,
          run: `run-${n}`,
          ...(replays === undefined || replays >= n ? {} : { replays: `run-${replays}` }),
          steps: [{ of: "Pan", result }],
        }))
        .map(eventsOf),
    ),
  );

/** Each run's events stay in their order, whatever comes between them. */
const mixed = (runs: readonly (readonly RunEvent[])[]): fc.Arbitrary<readonly RunEvent[]> => {
  const turns = runs.flatMap((events, run) => events.map(() => run));
  return fc.shuffledSubarray(turns, { minLength: turns.length }).map((order) => {
    const next = runs.map((events) => events.values());
    return order.flatMap((run) => {
      const taken = next[run]!.next();
      return taken.done ? [] : [taken.value];
    });
  });
};
