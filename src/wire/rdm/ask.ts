import type { Seconds } from "../../domain/units.ts";
import { BAD_REPLY_WORDS, type Dialogue, type Reply, type Request } from "./dialogue.ts";
import { COMMANDS, type RdmPacket, RESPONSES, type Uid } from "./packet.ts";
import { PARAMETERS, parameterName, QUEUED_MESSAGE, type Readable, type Settable } from "./parameters.ts";

/** What a fixture said to a question. */
export type Answer<T> =
  | { readonly kind: "value"; readonly value: T }
  /** It understood and refused, with the standard's reason. */
  | { readonly kind: "refused"; readonly reason: number }
  /** Nothing that can be believed came, in words that follow the parameter's name. */
  | { readonly kind: "failed"; readonly words: string }
  /** Nothing came at all. */
  | { readonly kind: "silent" };

/** How often a question is asked at most, when nothing or nonsense comes. */
const TRIES = 3;
/** How often a fixture may ask for more time, and how long it is waited for in all. */
const MOST_TIMERS = 8;
const LONGEST_WAIT: Seconds = 5;
/** How many pieces of 231 bytes an answer may have; the longest list there is, 512 slots of 5 bytes, takes 12. */
const MOST_PIECES = 24;

/** Reads one parameter. Ends after a bounded number of requests, whatever the fixture does. */
export function* ask<Asked, T>(to: Uid, parameter: Readable<Asked, T>, asked: Asked): Dialogue<Answer<T>> {
  const { pid, asks, answers } = parameter;
  const said = yield* carry({ to, command: COMMANDS.get, pid, data: asks.write(asked) });
  if (said.kind !== "value") return said;
  const value = answers.read(said.value);
  if (value !== undefined) return { kind: "value", value };
  return {
    kind: "failed",
    words: `answered with ${said.value.length} bytes that cannot be it; expected ${answers.expects}`,
  };
}

/** Sets one parameter, or gives a command. The value is the fixture's own; read it back to know what it took. */
export function* put<T>(to: Uid, { pid, sets }: Settable<T>, value: T): Dialogue<Answer<undefined>> {
  const said = yield* carry({ to, command: COMMANDS.set, pid, data: sets.write(value) });
  return said.kind === "value" ? { kind: "value", value: undefined } : said;
}

/**
 * Why a parameter could not be read or set, in words: "LAMP_HOURS: refused: write protected"; undefined for a value. `pid`
 * is the parameter's 16-bit number, 0 to 0xFFFF.
 */
export const troubleWith = ({ pid }: { readonly pid: number }, answer: Answer<unknown>): string | undefined => {
  if (answer.kind === "value") return undefined;
  const words =
    answer.kind === "failed" ? answer.words : answer.kind === "silent" ? "no answer" : refusal(answer.reason);
  return `${parameterName(pid)}: ${words}`;
};

/** Whether the fixture does not know the parameter, which is no trouble: it is just not fitted. */
export const isUnknown = (answer: Answer<unknown>): boolean => answer.kind === "refused" && answer.reason === 0;

const refusal = (reason: number) => `refused: ${REFUSALS[reason] ?? `reason ${reason.toString(16).padStart(4, "0")}`}`;

/** NACK reasons of ANSI E1.20 and, from 000B, of E1.37-2 (secondary). */
const REFUSALS: readonly string[] = [
  "does not know this parameter",
  "says the question has the wrong form",
  "has a hardware fault",
  "is behind a proxy that refuses",
  "is write protected",
  "does not do this with this parameter",
  "says the value is out of range",
  "has no room just now",
  "cannot take so much at once",
  "has no such sub-device",
  "is behind a proxy that has no room",
  "cannot do this",
];

/** One request until it is done, refused or given up: tries again, waits when asked to, fetches what comes in pieces. */
function* carry(request: Request): Dialogue<Answer<Uint8Array>> {
  const errand = new RequestErrand(request);
  for (let next = request; ; ) {
    const reply = yield* tried(next);
    if (reply.kind === "bad") return failed(BAD_REPLY_WORDS[reply.why]);
    if (reply.kind !== "response") return { kind: "silent" };
    const { packet } = reply;
    if (!errand.isAbout(packet)) yield { kind: "unasked", packet };
    const course = errand.after(packet, next);
    if (course.kind !== "ask") return course;
    if (course.wait > 0) yield { kind: "pause", time: course.wait };
    next = course.request;
  }
}

/** What is to be done after a response: ask (again), after a while; or it is settled. */
type Course = Answer<Uint8Array> | { readonly kind: "ask"; readonly request: Request; readonly wait: Seconds };

/** What one request has led to so far. */
class RequestErrand {
  private readonly request: Request;
  private readonly pieces: Uint8Array[] = [];
  private detours = 0;
  private waited: Seconds = 0;

  constructor(request: Request) {
    this.request = request;
  }

  /** The command class of a response is that of its request, and one more. */
  isAbout({ command, pid, port }: RdmPacket): boolean {
    const { request } = this;
    if (pid === QUEUED_MESSAGE) return port === RESPONSES.later;
    return command === request.command + 1 && pid === request.pid;
  }

  after(packet: RdmPacket, last: Request): Course {
    // Nothing of ours is in the queue: the question is asked anew.
    if (!this.isAbout(packet))
      return this.detour("keeps answering something else", packet.waiting > 0 ? last : this.request, 0);
    if (packet.port === RESPONSES.refused) return refused(packet);
    if (packet.port === RESPONSES.later)
      return this.detour("asks for more time without end", inTheQueue(this.request), timeAsked(packet));
    this.pieces.push(packet.data);
    if (packet.port === RESPONSES.done) return { kind: "value", value: joined(this.pieces) };
    return this.pieces.length > MOST_PIECES
      ? failed("sends more and more without end")
      : { kind: "ask", request: this.request, wait: 0 };
  }

  private detour(words: string, request: Request, wait: Seconds): Course {
    this.detours += 1;
    this.waited += wait;
    return this.detours > MOST_TIMERS || this.waited > LONGEST_WAIT ? failed(words) : { kind: "ask", request, wait };
  }
}

/** The first reply that can be believed, of a few tries; the last one when none can. */
function* tried(request: Request): Dialogue<Reply> {
  let last: Reply = { kind: "silence" };
  const tries = request.command === COMMANDS.set && ONCE.includes(request.pid) ? 1 : TRIES;
  for (let count = 0; count < tries; count += 1) {
    const reply: Reply = (yield request) ?? { kind: "silence" };
    if (reply.kind === "response") return reply;
    if (reply.kind !== "silence") last = reply;
  }
  return last;
}

/** Not to be done twice because an answer was lost. */
const ONCE: readonly number[] = [PARAMETERS.RESET_DEVICE.pid, PARAMETERS.PERFORM_SELFTEST.pid];

/** An answer that was put off is fetched from the queue; whoever repeats a command instead might carry it out twice. */
const inTheQueue = ({ to }: Request): Request => ({
  to,
  command: COMMANDS.get,
  pid: QUEUED_MESSAGE,
  data: Uint8Array.of(LAST_ERRORS),
});
const LAST_ERRORS = 4;

const refused = ({ data: [high = 0, low = 0] }: RdmPacket): Answer<never> => ({
  kind: "refused",
  reason: high * 256 + low,
});
const failed = (words: string): Answer<never> => ({ kind: "failed", words });

/** In tenths of a second; a fixture that names none gets one. */
const timeAsked = ({ data: [high = 0, low = 0] }: RdmPacket): Seconds => Math.max(1, high * 256 + low) / 10;

const joined = (pieces: readonly Uint8Array[]): Uint8Array => Uint8Array.from(pieces.flatMap((piece) => [...piece]));
