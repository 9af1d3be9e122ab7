import { createHash, randomBytes, randomInt, timingSafeEqual } from "node:crypto";
import type { Milliseconds } from "../../domain/units.ts";
import { afterTrip, NO_TRIPS, type OurTime, ourTime, type PhoneClock } from "../../run/phone/clock.ts";
import type { PhoneSaid } from "../../run/phone/message.ts";

interface WaitingPhone {
  readonly era: number;
  readonly said: PhoneSaid;
  readonly heard: number;
}

/** A phone that has shown the secret. */
export interface Guest {
  readonly phone: number;
  readonly number: string;
  readonly mark: Buffer;
  /** Let in by somebody at the terminal: to answer, or only to watch. */
  role: "asks" | "answers" | "watches";
  /** The last thing heard of it. */
  heardAt: Milliseconds;
  lastId: number;
  /** What is known of its clock, by era: each time the phone has slept a new one begins. */
  readonly clocks: Map<number, PhoneClock>;
  /** What was said while nobody could know when: the clock of that era has no round trip yet. */
  readonly waiting: WaitingPhone[];
  /** The round trip that waits to hear when its answer came back. */
  trip: { readonly sent: Milliseconds; readonly received: Milliseconds; readonly answered: Milliseconds } | undefined;
}

/** How many eras a phone that slept can have; more are no phone. */
const MOST_ERAS = 50;
/** How many wrong secrets in a minute stop all pairing for a minute. */
const MOST_GUESSES = 5;
const GUESS_PAUSE_MS = 60_000;
const SECRET_LASTS_MS = 600_000;

/** Who may come in: a secret that pairs one phone once, and the phones that have shown it. */
export class Guests {
  private readonly most: number;
  private readonly now: () => Milliseconds;
  private readonly guests: Guest[] = [];
  private readonly guesses: number[] = [];
  private secretHash: Buffer | undefined;
  private secretSince = 0;
  private count = 0;

  constructor(most: number, now: () => Milliseconds) {
    this.most = most;
    this.now = now;
  }

  /** Makes a new secret; the one before is worth nothing any more. */
  renew(): string {
    const secret = randomBytes(16).toString("base64url");
    this.secretHash = hashOf(secret);
    this.secretSince = this.now();
    return secret;
  }

  /**
   * Takes the secret that a phone shows. With the right one the phone has a cookie, and waits to be let in at the terminal.
   */
  pair(secret: string): { readonly guest: Guest; readonly cookie: string } | "wrong" | "too many guesses" | "full" {
    const now = this.now();
    while (this.guesses[0] !== undefined && now - this.guesses[0] > GUESS_PAUSE_MS) this.guesses.shift();
    if (this.guesses.length >= MOST_GUESSES) return "too many guesses";
    const isFresh = now - this.secretSince <= SECRET_LASTS_MS;
    if (!this.secretHash || !isFresh || !timingSafeEqual(hashOf(secret), this.secretHash)) {
      this.guesses.push(now);
      return "wrong";
    }
    if (this.guests.length >= this.most) return "full";
    this.secretHash = undefined;
    const cookie = randomBytes(32).toString("base64url");
    const number = String(randomInt(1000, 10_000));
    const guest: Guest = {
      phone: ++this.count,
      number,
      mark: hashOf(cookie),
      role: "asks",
      heardAt: now,
      lastId: 0,
      clocks: new Map(),
      waiting: [],
      trip: undefined,
    };
    this.guests.push(guest);
    return { guest, cookie };
  }

  /**
   * Lets a phone in or turns it away, by its number from 1: the first one answers, the others watch.
   * Undefined where no such phone waits.
   */
  letIn(phone: number, answer: "yes" | "no"): Guest | undefined {
    const guest = this.guests.find((one) => one.phone === phone);
    if (guest?.role !== "asks") return undefined;
    if (answer === "no") this.guests.splice(this.guests.indexOf(guest), 1);
    else guest.role = this.guests.some(({ role }) => role === "answers") ? "watches" : "answers";
    return guest;
  }

  /**
   * The guest whose cookie it is; undefined where it is nobody's. Every guest is compared with, so
   * that the time it takes says nothing.
   */
  whose(cookie: string | undefined): Guest | undefined {
    const hash = hashOf(cookie ?? "");
    let found: Guest | undefined;
    for (const guest of this.guests) if (timingSafeEqual(hash, guest.mark)) found = guest;
    return found;
  }

  /** The guest who answers questions; undefined where there is none. */
  answering(): Guest | undefined {
    return this.guests.find(({ role }) => role === "answers");
  }
}

const hashOf = (text: string): Buffer => createHash("sha256").update(text).digest();

/**
 * Begins a round trip; the one before is over when the phone says when its answer came back. `era` is how often the phone
 * has slept, from 0: its clock is known anew after each. `received` and `answered` are milliseconds by our clock; `sent`
 * and `back` are milliseconds by the phone's.
 */
export const roundTrip = (
  guest: Guest,
  era: number,
  {
    sent,
    before,
  }: {
    readonly sent: Milliseconds;
    readonly before?: { readonly sent: Milliseconds; readonly back: Milliseconds } | undefined;
  },
  received: Milliseconds,
  answered: Milliseconds,
): void => {
  const { trip } = guest;
  if (trip && before?.sent === trip.sent)
    keepClock(guest, era, afterTrip(guest.clocks.get(era) ?? NO_TRIPS, { ...trip, back: before.back }));
  guest.trip = { sent, received, answered };
};

const keepClock = ({ clocks }: Guest, era: number, clock: PhoneClock): void => {
  if (clocks.has(era) || clocks.size < MOST_ERAS) clocks.set(era, clock);
};

/** Something said, with when that was by the system's clock and how far off that may be. */
export type SaidWhen = OurTime & { readonly said: PhoneSaid };

/**
 * Takes in what was said, and gives back what can be told now. `era` is how often the phone has slept, from 0; `now` is in
 * milliseconds by our clock. A press waits for the first round trip of its clock, which is there within a second: told at
 * once it would be placed where it arrived, and it may have waited in the phone. Stop never waits.
 */
export const hearing = (
  guest: Guest,
  era: number,
  said: readonly PhoneSaid[],
  now: Milliseconds,
): readonly SaidWhen[] => {
  const atOnce: SaidWhen[] = [];
  for (const one of said) {
    if (one.id <= guest.lastId) continue;
    guest.lastId = one.id;
    if (one.kind === "stop" || one.kind === "here")
      atOnce.push({ said: one, ...(timeOf(guest, era, one.at, now) ?? { at: now, give: UNKNOWN_GIVE_MS }) });
    else guest.waiting.push({ era, said: one, heard: now });
  }
  return [...atOnce, ...due(guest, now)];
};

/** What has waited and can be told now, in the order in which it was said. `now` is in milliseconds by our clock. */
export const due = (guest: Guest, now: Milliseconds): readonly SaidWhen[] => {
  const told: SaidWhen[] = [];
  for (let first = guest.waiting[0]; first; first = guest.waiting[0]) {
    const { era, said, heard } = first;
    const when =
      timeOf(guest, era, said.at, now) ??
      (now - heard > UNKNOWN_GIVE_MS ? { at: heard, give: UNKNOWN_GIVE_MS } : undefined);
    if (!when) break;
    guest.waiting.shift();
    told.push({ said, ...when });
  }
  return told;
};

/** Never later than now; undefined while the clock is not known. */
const timeOf = ({ clocks }: Guest, era: number, at: Milliseconds, now: Milliseconds): OurTime | undefined => {
  const clock = clocks.get(era);
  const known = clock && ourTime(clock, at);
  return known && { at: Math.min(known.at, now), give: known.give };
};

/** How long what was said waits for a clock, and how far off its time may then be. */
const UNKNOWN_GIVE_MS = 3000;

/** How often somebody may come: `atOnce` times at once, and `perSecond` times a second after that (a token bucket). */
interface Allowance {
  readonly atOnce: number;
  readonly perSecond: number;
}

/** Counts for everybody by a name of their own; whoever has been quiet long enough is forgotten. */
export class RateLimit {
  private readonly allowance: Allowance;
  private readonly now: () => number;
  private readonly spent = new Map<string, { count: number; at: number }>();

  constructor(allowance: Allowance, now: () => number) {
    this.allowance = allowance;
    this.now = now;
  }

  /** Whether somebody may come once more now; it is counted if so. */
  allows(who: string): boolean {
    const { atOnce, perSecond } = this.allowance;
    const now = this.now();
    if (this.spent.size > MOST_KNOWN) this.forget(now);
    const before = this.spent.get(who) ?? { count: 0, at: now };
    const count = Math.max(0, before.count - ((now - before.at) / 1000) * perSecond);
    const isAllowed = count + 1 <= atOnce;
    this.spent.set(who, { count: isAllowed ? count + 1 : count, at: now });
    return isAllowed;
  }

  private forget(now: number): void {
    const { atOnce, perSecond } = this.allowance;
    for (const [who, { at }] of this.spent) if (now - at > (atOnce / perSecond) * 1000) this.spent.delete(who);
  }
}

const MOST_KNOWN = 200;
