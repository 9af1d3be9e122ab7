import type { Seconds } from "../../domain/units.ts";
import {
  type BadPacket,
  COMMANDS,
  decodePacket,
  decodeSearchReply,
  EVERYBODY,
  encodePacket,
  isBroadcast,
  OUR_UID,
  type RdmPacket,
  type Uid,
} from "./packet.ts";
import { QUEUED_MESSAGE, SEARCH } from "./parameters.ts";

/** One question or command for one fixture, or for everybody. */
export interface Request {
  readonly to: Uid;
  readonly command: typeof COMMANDS.discovery | typeof COMMANDS.get | typeof COMMANDS.set;
  readonly pid: number;
  readonly data: Uint8Array;
}

/** What came back for a request. */
export type Reply =
  | { readonly kind: "response"; readonly packet: RdmPacket }
  /** A search was answered by one fixture, or by what cannot be one. */
  | { readonly kind: "found"; readonly uid: Uid }
  | { readonly kind: "collision" }
  /** Nobody answered in time; of a broadcast: it was sent. */
  | { readonly kind: "silence" }
  | { readonly kind: "bad"; readonly why: BadReply };

/** Why an answer was not believed. */
export type BadReply = BadPacket | "wrong-fixture" | "wrong-receiver" | "wrong-transaction" | "wrong-command";

export const BAD_REPLY_WORDS: Readonly<Record<BadReply, string>> = {
  short: "the answer breaks off",
  "not-rdm": "the answer is not RDM",
  "wrong-length": "the answer lies about its length",
  checksum: "the answer has a wrong checksum",
  "wrong-fixture": "another fixture answered",
  "wrong-receiver": "the answer was for somebody else",
  "wrong-transaction": "the answer was to another question",
  "wrong-command": "the answer is of another kind",
};

/** How far a long dialogue is. */
interface Progress {
  readonly kind: "progress";
  readonly done: number;
  readonly of: number;
  /** What is being done: "searching", the UID that is being read. */
  readonly words: string;
}

/**
 * A talk with fixtures: yields what to send or how long to wait, is told what came, and ends in a value. It knows no
 * clock and no port; played with the same replies it asks the same.
 */
export type Dialogue<T> = Generator<Request | Aside, T, Reply | undefined>;
/** What a dialogue says to whoever plays it, and not to a fixture. */
export type Aside = Progress | Pause | Unasked;
interface Pause {
  readonly kind: "pause";
  readonly time: Seconds;
}

/** A message that came out of a fixture's queue while something else was waited for. */
interface Unasked {
  readonly kind: "unasked";
  readonly packet: RdmPacket;
}

/** What goes on the cable: a whole packet, and who may answer it. */
export interface ToSend {
  readonly kind: "send";
  readonly packet: Uint8Array;
  /** Of a search the answers have no break and may collide; a broadcast is not answered. */
  readonly answered: "by-one" | "by-any" | "by-nobody";
}
/** What came from the cable: the bytes as they were, or nothing in time. */
export type Heard =
  | { readonly kind: "bytes"; readonly bytes: Uint8Array }
  | { readonly kind: "nothing" }
  /** Not even the interface itself said that nobody answered: perhaps it does no RDM. */
  | { readonly kind: "unheard" };
export type CableTalk<T> = Generator<ToSend | Aside, T, Heard | undefined>;

/** Turns a dialogue into bytes (ANSI E1.20, secondary): numbers its requests, and believes only what answers them. */
export function* onTheCable<T>(dialogue: Dialogue<T>): CableTalk<T> {
  let transaction = 0;
  let next = dialogue.next();
  while (!next.done) {
    const step = next.value;
    if ("kind" in step) {
      yield step;
      next = dialogue.next(undefined);
      continue;
    }
    const packet = packetFor(step, transaction);
    transaction = (transaction + 1) & 0xff;
    const heard = yield { kind: "send", packet: encodePacket(packet), answered: answeredBy(step) };
    next = dialogue.next(heard === undefined ? SILENCE : replyTo(packet, heard));
  }
  return next.value;
}

const SILENCE: Reply = { kind: "silence" };

const packetFor = ({ to, command, pid, data }: Request, transaction: number): RdmPacket => ({
  destination: to,
  source: OUR_UID,
  transaction,
  port: 1,
  waiting: 0,
  subDevice: 0,
  command,
  pid,
  data,
});

const isSearch = ({ command, pid }: Pick<RdmPacket, "command" | "pid">) =>
  command === COMMANDS.discovery && pid === SEARCH.branch;

const answeredBy = (request: Request): ToSend["answered"] => {
  if (isSearch(request)) return "by-any";
  return isBroadcast(request.to) ? "by-nobody" : "by-one";
};

/** What the bytes mean as an answer to this packet. */
const replyTo = (asked: RdmPacket, heard: Heard): Reply => {
  if (heard.kind !== "bytes" || heard.bytes.length === 0) return SILENCE;
  if (isSearch(asked)) {
    const uid = decodeSearchReply(heard.bytes);
    return uid === "collision" ? { kind: "collision" } : { kind: "found", uid };
  }
  const packet = decodePacket(heard.bytes);
  if (typeof packet === "string") return { kind: "bad", why: packet };
  const why = strange(asked, packet);
  return why === undefined ? { kind: "response", packet } : { kind: "bad", why };
};

const strange = (asked: RdmPacket, packet: RdmPacket): BadReply | undefined => {
  if (asked.destination !== EVERYBODY && packet.source !== asked.destination) return "wrong-fixture";
  if (packet.destination !== asked.source) return "wrong-receiver";
  if (packet.transaction !== asked.transaction) return "wrong-transaction";
  // Out of the queue comes the answer to any question.
  if (asked.pid === QUEUED_MESSAGE) return undefined;
  return packet.pid === asked.pid && packet.command === asked.command + 1 ? undefined : "wrong-command";
};
