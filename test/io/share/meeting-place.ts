import type { ChainedEvent } from "../../../src/run/events/chain.ts";
import { NO_HASH } from "../../../src/run/events/chain.ts";
import type { SharedBench, ShareServer } from "../../../src/run/sharing/exchange.ts";

/**
 * A server in memory that behaves as the one in PostgreSQL is asked to, and can be unkind: `trouble` is asked before and
 * after everything it does, and whatever it throws is a connection that breaks there.
 */
export const meetingPlace = () => {
  const events = new Map<string, ChainedEvent[]>();
  const forgotten = new Set<string>();
  const seenBy = (trouble: () => void): ShareServer => {
    const asked = async <T>(work: () => T): Promise<T> => {
      trouble();
      const answer = work();
      trouble();
      return answer;
    };
    return {
      benches: () =>
        asked(() =>
          [...events].map(
            ([origin, all]): SharedBench => ({
              origin,
              number: all.length,
              hash: all.at(-1)?.hash ?? NO_HASH,
              name: origin,
              shop: "",
              forgotten: forgotten.has(origin),
            }),
          ),
        ),
      hashAt: (origin, number) => asked(() => events.get(origin)?.[number - 1]?.hash),
      push: (origin, batch) =>
        asked(() => {
          if (forgotten.has(origin)) return "forgotten";
          const all = followed(events.get(origin) ?? [], batch);
          if (all) events.set(origin, all);
          return all ? "stored" : "taken";
        }),
      pull: (origin, after, most) => asked(() => (events.get(origin) ?? []).slice(after, after + most)),
    };
  };
  return { events, forgotten, seenBy, kind: seenBy(() => {}) };
};

/** What is there with what follows it; undefined where something does not follow, or a number is in use. */
const followed = (there: readonly ChainedEvent[], batch: readonly ChainedEvent[]): ChainedEvent[] | undefined => {
  const all = [...there];
  for (const one of batch) {
    const same = all[one.number - 1];
    if (same && same.hash !== one.hash) return undefined;
    if (same) continue;
    if (one.number !== all.length + 1 || one.before !== (all.at(-1)?.hash ?? NO_HASH)) return undefined;
    all.push(one);
  }
  return all;
};
