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
              forgotten: forgotten.has(origin),
            }),
          ),
        ),
      hashAt: (origin, number) => asked(() => events.get(origin)?.[number - 1]?.hash),
      push: (origin, batch) =>
        asked(() => {
          if (forgotten.has(origin)) return "forgotten";
          const all = [...(events.get(origin) ?? [])];
          for (const one of batch) {
            const there = all[one.number - 1];
            if (there && there.hash !== one.hash) return "taken";
            if (!there && (one.number !== all.length + 1 || one.before !== (all.at(-1)?.hash ?? NO_HASH)))
              return "taken";
            if (!there) all.push(one);
          }
          events.set(origin, all);
          return "stored";
        }),
      pull: (origin, after, most) => asked(() => (events.get(origin) ?? []).slice(after, after + most)),
    };
  };
  return { events, forgotten, seenBy, kind: seenBy(() => {}) };
};
