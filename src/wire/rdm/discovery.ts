import type { Dialogue, Request } from "./dialogue.ts";
import { COMMANDS, EVERYBODY, LAST_UID, type RdmPacket, type Uid, uidBytes } from "./packet.ts";
import { SEARCH } from "./parameters.ts";

/** One fixture that a search found and that confirmed itself. */
interface Discovered {
  readonly uid: Uid;
  /** Speaks for others behind it, such as a wireless link. */
  readonly proxy: boolean;
  /** Is spoken for by somebody else. */
  readonly proxied: boolean;
}

/** How a search ended. */
export interface Discovery {
  /** Lowest first. */
  readonly found: readonly Discovered[];
  /** Answered although they had been told to be silent: others may be hidden behind them. */
  readonly talkative: readonly Uid[];
  /** Confirmed themselves, but never so that it could be read: two fixtures with one UID do that. */
  readonly garbled: readonly Uid[];
  /** Read in an answer, but nobody confirmed it: two answers that happened to look like a third. */
  readonly phantoms: readonly Uid[];
  /** "noise" when the search was given up, since too much came that could not be read. */
  readonly ended: "complete" | "noise";
  readonly requests: number;
}

/** How often everybody is told to speak again, since nobody answers that and it may get lost. */
const UNMUTES = 3;
/** How often one is told to be silent before it counts as a phantom, since it does not answer. */
const MUTES = 4;
/** How many whole searches in a row must find nobody new before everybody counts as found: any answer may have got lost. */
const SILENCES = 4;
/** How many collisions in a row may find nobody: halving 48 bits for two that differ in the last one takes 48. */
const MOST_COLLISIONS = 400;
/** How many whole searches are made at most: more than fixtures that lose every second answer need. */
const MOST_ROUNDS = 40;

interface Range {
  readonly low: Uid;
  readonly high: Uid;
}
const EVERYONE: Range = { low: 0, high: LAST_UID };

/**
 * Finds everybody on the cable by halving (ANSI E1.20): whoever lies in a range answers, two at once spoil each other's
 * answer, so it is asked again in two halves; whoever is understood is told to be silent and the same range asked again.
 * Ends after a bounded number of requests, whatever answers.
 */
export function* discover(): Dialogue<Discovery> {
  const search = new DiscoverySearch();
  for (let count = 0; count < UNMUTES; count += 1) yield search.counted(request(EVERYBODY, SEARCH.unmute));
  // A silent range is asked once; whoever was missed in one is found when all are asked again.
  for (let rounds = 0, quiet = 0; quiet < SILENCES && rounds < MOST_ROUNDS && !search.noisy; rounds += 1) {
    const before = search.found.size;
    const first = yield* search.branch(EVERYONE);
    const news = search.found.size > before || (first === "answers" && !search.hasChatter());
    quiet = news ? 0 : quiet + 1;
  }
  return search.result();
}

/** What a search knows so far. Its methods are dialogues. */
class DiscoverySearch {
  readonly found = new Map<Uid, Discovered>();
  private readonly phantoms = new Set<Uid>();
  private readonly talkative = new Set<Uid>();
  private readonly garbled = new Set<Uid>();
  private requests = 0;
  private collisions = 0;

  get noisy(): boolean {
    return this.collisions > MOST_COLLISIONS;
  }

  /** Somebody answers who will not be silent. */
  hasChatter(): boolean {
    return this.talkative.size + this.phantoms.size > 0;
  }

  result(): Discovery {
    const { found, requests } = this;
    return {
      found: [...found.values()].sort((a, b) => a.uid - b.uid),
      talkative: [...this.talkative],
      garbled: [...this.garbled],
      phantoms: [...this.phantoms].filter((uid) => !found.has(uid)),
      ended: this.noisy ? "noise" : "complete",
      requests,
    };
  }

  counted(request: Request): Request {
    this.requests += 1;
    return request;
  }

  /** Asks a range until it is silent, or in its halves. Says whether anything came at first. */
  *branch(range: Range): Dialogue<"silence" | "answers"> {
    for (let count = 0; ; count += 1) {
      const reply = yield this.counted(branchRequest(range));
      if (reply === undefined || reply.kind === "silence") return count === 0 ? "silence" : "answers";
      if (reply.kind === "found" && (yield* this.quieten(reply.uid))) continue;
      yield* this.halve(range);
      return "answers";
    }
  }

  private *halve({ low, high }: Range): Dialogue<void> {
    this.collisions += 1;
    if (low === high || this.noisy) return;
    const middle = Math.floor((low + high) / 2);
    yield* this.branch({ low, high: middle });
    yield* this.branch({ low: middle + 1, high });
  }

  /** Tells one to be silent. False when it does not confirm that, or was told twice before and answers all the same. */
  private *quieten(uid: Uid): Dialogue<boolean> {
    if (this.talkative.has(uid)) return false;
    if (this.found.has(uid)) this.talkative.add(uid);
    let bad = 0;
    for (let count = 0; count < MUTES; count += 1) {
      const reply = yield this.counted(request(uid, SEARCH.mute));
      if (reply?.kind === "response") return yield* this.confirmed(uid, flagsIn(reply.packet));
      if (reply?.kind === "bad") bad += 1;
    }
    if (bad > 1) {
      this.garbled.add(uid);
      return yield* this.confirmed(uid, NO_FLAGS);
    }
    this.phantoms.add(uid);
    return false;
  }

  private *confirmed(uid: Uid, flags: Omit<Discovered, "uid">): Dialogue<true> {
    this.found.set(uid, { uid, ...flags });
    this.collisions = 0;
    yield { kind: "progress", done: this.found.size, of: this.found.size, words: "searching" };
    return true;
  }
}

const NO_FLAGS = { proxy: false, proxied: false };
/** Bits of the control field that a fixture answers a mute with. */
const MANAGED_PROXY = 0x01;
const PROXIED_DEVICE = 0x08;

/** Two bytes of flags, low byte last; after them may stand the UID that binds several ports of one fixture. */
const flagsIn = ({ data: [, flags = 0] }: RdmPacket): Omit<Discovered, "uid"> => ({
  proxy: (flags & MANAGED_PROXY) !== 0,
  proxied: (flags & PROXIED_DEVICE) !== 0,
});

const branchRequest = ({ low, high }: Range): Request =>
  request(EVERYBODY, SEARCH.branch, Uint8Array.of(...uidBytes(low), ...uidBytes(high)));

const request = (to: Uid, pid: number, data = new Uint8Array(0)): Request => ({
  to,
  command: COMMANDS.discovery,
  pid,
  data,
});
