import type { ChainedEvent, ChainHead } from "../events/chain.ts";

/** A journal's own side of an exchange. Nothing here waits: the journal is on this computer. */
export interface ChainStore {
  /** Every bench id that this journal has ever written under; the last is today's. */
  owns(): readonly string[];
  /** Other shops that are listened to, because a fixture came from there. */
  follows(): readonly string[];
  /** The last event of a bench that is known here. */
  head(origin: string): ChainHead | undefined;
  /** The hash of a bench's event with this number, from 1; undefined where it is not known here. */
  hashAt(origin: string, number: number): string | undefined;
  /** The events of a bench after number `after`, `most` at most. */
  chain(origin: string, after: number, most: number): readonly ChainedEvent[];
  /** Takes in events as far as each follows what is known of its bench; says where they do not, and why. */
  receive(events: readonly ChainedEvent[]): Refusal | undefined;
  /** Moves our events, from the sequence number `from` on, into a chain of a new bench id, and gives that id. */
  rehome(origin: string, from: number): string;
  /** Gives what is written from now on a new bench id. */
  renew(): string;
}

/** Events that do not follow what is known of their bench. */
export interface Refusal {
  readonly origin: string;
  readonly number: number;
  readonly why: string;
}

/** Where benches meet. Every function rejects when the server cannot be reached. */
export interface ShareServer {
  /** The benches of this shop and of those that are followed, with the last event of each; the own ones among them. */
  benches(follows: readonly string[]): Promise<readonly SharedBench[]>;
  /** The hash of a bench's event with this number, from 1; undefined where the server does not have it. */
  hashAt(origin: string, number: number): Promise<string | undefined>;
  /** Stores events that follow the bench's head there, all or none; what it has already it skips. */
  push(origin: string, events: readonly ChainedEvent[]): Promise<PushAnswer>;
  /** The events of a bench after number `after`, `most` at most. */
  pull(origin: string, after: number, most: number): Promise<readonly ChainedEvent[]>;
}

export interface SharedBench extends ChainHead {
  readonly name: string;
  readonly shop: string;
  readonly forgotten: boolean;
}

/** "taken": its numbers were used by another journal meanwhile; the next exchange sorts that out. */
export type PushAnswer = "stored" | "forgotten" | "taken";

/** What an exchange did. */
export interface Exchanged {
  readonly pushed: number;
  readonly pulled: number;
  readonly refused: readonly Refusal[];
  /** The server takes nothing more of this bench. */
  readonly forgotten: boolean;
  /** New bench ids that this journal took, because its numbers were in use elsewhere. */
  readonly renewed: readonly string[];
}

/** How many events are sent at a time: a cut in the middle costs no more than these, and nobody waits long for the journal. */
export const BATCH = 200;

/**
 * Sends this journal's events to the server and takes in those of the other benches, each bench by its own contiguous
 * numbers: whatever is cut off goes on, whatever is sent twice is stored once. The chain of every bench is checked as it
 * comes in. Rejects when the server cannot be reached; what was exchanged until then stays.
 */
export const exchange = async (store: ChainStore, server: ShareServer): Promise<Exchanged> => {
  const there = new Map((await server.benches(store.follows())).map((bench) => [bench.origin, bench]));
  const renewed = await settleOwn(store, server, there);
  const sent = await pushAll(store, server, there);
  const got = await pullAll(store, server, there);
  return { ...sent, ...got, renewed };
};

type Heads = ReadonlyMap<string, SharedBench>;

/**
 * A journal restored from an older copy, or copied to a second computer, would use numbers twice. What was written since
 * the common past gets a new bench id; where nothing was, only what will be written does.
 */
const settleOwn = async (store: ChainStore, server: ShareServer, there: Heads): Promise<readonly string[]> => {
  const renewed: string[] = [];
  for (const origin of store.owns()) {
    const [theirs, ours] = [there.get(origin), store.head(origin)];
    if (!theirs || theirs.number === 0) continue;
    const common = await commonPast(store, server, theirs, ours?.number ?? 0);
    if (ours && ours.number > common && theirs.number > common) renewed.push(store.rehome(origin, common + 1));
    else if (theirs.number > common && origin === store.owns().at(-1)) renewed.push(store.renew());
  }
  return renewed;
};

/** The last number up to which both have the same events. Equal hashes mean an equal past, so it is found half by half. */
const commonPast = async (store: ChainStore, server: ShareServer, theirs: ChainHead, ours: number): Promise<number> => {
  const { origin } = theirs;
  const same = async (number: number): Promise<boolean> => {
    const hash = number === theirs.number ? theirs.hash : await server.hashAt(origin, number);
    return hash === store.hashAt(origin, number);
  };
  let [known, unknown] = [0, Math.min(theirs.number, ours) + 1];
  if (unknown > 1 && (await same(unknown - 1))) return unknown - 1;
  while (unknown - known > 1) {
    const middle = Math.floor((known + unknown) / 2);
    if (await same(middle)) known = middle;
    else unknown = middle;
  }
  return known;
};

const pushAll = async (
  store: ChainStore,
  server: ShareServer,
  there: Heads,
): Promise<Pick<Exchanged, "pushed" | "forgotten">> => {
  let pushed = 0;
  for (const origin of store.owns()) {
    for (let after = there.get(origin)?.number ?? 0; ; ) {
      const events = store.chain(origin, after, BATCH);
      const last = events.at(-1);
      if (!last) break;
      const answer = await server.push(origin, events);
      if (answer === "forgotten") return { pushed, forgotten: true };
      if (answer === "taken") break;
      pushed += events.length;
      after = last.number;
    }
  }
  // With nothing to send it hears of it all the same.
  return { pushed, forgotten: there.get(store.owns().at(-1) ?? "")?.forgotten ?? false };
};

/** A bench whose chain is broken is refused from there on; the others come in. */
const pullAll = async (
  store: ChainStore,
  server: ShareServer,
  there: Heads,
): Promise<Pick<Exchanged, "pulled" | "refused">> => {
  let pulled = 0;
  const refused: Refusal[] = [];
  for (const { origin, number } of there.values()) {
    for (let after = store.head(origin)?.number ?? 0; after < number; ) {
      const events = await server.pull(origin, after, BATCH);
      const last = events.at(-1);
      const broken = last ? store.receive(events) : { origin, number: after + 1, why: "it is missing on the server" };
      if (broken) refused.push(broken);
      if (broken || !last) break;
      pulled += events.length;
      after = last.number;
    }
  }
  return { pulled, refused };
};
