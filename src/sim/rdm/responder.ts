import { NOT_THIS_WAY, ownEntry, PARAMETER_ENTRIES, type Said, UNKNOWN } from "./answers.ts";
import type { Device } from "./device.ts";

/** What a fixture puts on the cable: with a break before it, or bare, as the answer to a search is. */
export interface Utterance {
  readonly bytes: readonly number[];
  readonly bare: boolean;
}

const MOST_DATA = 231;

/**
 * The responder inside a simulated fixture, written from ANSI E1.20 with an encoder of its own: it shares no code with
 * what the bench speaks. It hears bytes and answers in bytes.
 */
export class Responder {
  readonly device: Device;
  private muted = false;
  private unsent: { pid: number; bytes: readonly number[] } | undefined;
  private readonly queue: { readonly pid: number; readonly command: number; readonly said: Said }[] = [];

  constructor(device: Device) {
    this.device = device;
  }

  /**
   * What the device puts on the cable after these bytes; undefined where it stays silent, as when they are damaged, meant
   * for others, or its mains is off. `bytes` are 0 to 255 each.
   */
  hear(bytes: readonly number[]): Utterance | undefined {
    if (!this.device.powered) {
      this.muted = false;
      return undefined;
    }
    if (bytes[0] !== 0xcc || bytes[1] !== 1 || !this.concerns(bytes) || !isSummed(bytes)) return undefined;
    const [to, command] = [bytes.slice(3, 9), bytes[20] ?? 0];
    if (command === 0x10) return this.search(bytes, to);
    return same(to, this.device.uid) ? this.respond(bytes, command) : this.obey(bytes, command);
  }

  /** Meant for it, and no search that it may not answer. */
  private concerns(bytes: readonly number[]): boolean {
    const isBranch = bytes[20] === 0x10 && bytes[22] === 1;
    return isMeant(bytes, 3, this.device.uid) && !(isBranch && (this.muted || !this.lies(bytes)));
  }

  private search(bytes: readonly number[], to: readonly number[]): Utterance | undefined {
    const pid = bytes[22];
    if (pid === 1) return { bytes: this.branchReply(), bare: true };
    if (pid !== 2 && pid !== 3) return undefined;
    this.muted = pid === 2;
    const flags = { fixture: 0, proxy: 1, proxied: 8 }[this.device.kind];
    return same(to, this.device.uid) ? this.reply(bytes, { type: 0, pid, command: 0x11, data: [0, flags] }) : undefined;
  }

  private lies(bytes: readonly number[]): boolean {
    return isUpTo(bytes, 24, this.device.uid) && !isUpTo(bytes, 30, this.device.uid, "not equal");
  }

  private branchReply(): readonly number[] {
    const coded = this.device.uid.flatMap((byte) => [byte | 0xaa, byte | 0x55]);
    const sum = total(coded);
    const sums = [sum >> 8, sum & 255].flatMap((byte) => [byte | 0xaa, byte | 0x55]);
    return [...Array(7).fill(0xfe), 0xaa, ...coded, ...sums];
  }

  /** A command to everybody is carried out and not answered. */
  private obey(bytes: readonly number[], command: number): undefined {
    if (command === 0x30) this.carryOut(bytes, command);
  }

  private respond(bytes: readonly number[], command: number): Utterance | undefined {
    const pid = pidOf(bytes);
    if (pid === 0x0020 && command === 0x20) return this.fromQueue(bytes);
    const tenths = this.device.slow.get(pid);
    if (tenths !== undefined && !this.device.lacks.has(0x0020)) {
      this.queue.push({ pid, command: command + 1, said: this.carryOut(bytes, command) });
      return this.reply(bytes, { type: 1, pid, command: command + 1, data: [tenths >> 8, tenths & 255] });
    }
    if (this.unsent?.pid === pid && command === 0x20) return this.piece(bytes, this.unsent.bytes);
    return this.saying(bytes, pid, command + 1, this.carryOut(bytes, command));
  }

  private fromQueue(bytes: readonly number[]): Utterance {
    if (this.device.lacks.has(0x0020)) return this.saying(bytes, 0x0020, 0x21, UNKNOWN);
    const next = this.queue.shift();
    if (next) return this.saying(bytes, next.pid, next.command, next.said);
    return this.saying(
      bytes,
      0x0030,
      0x21,
      PARAMETER_ENTRIES.get(0x0030)?.get?.(this.device, bytes.slice(24, 25)) ?? [],
    );
  }

  private carryOut(bytes: readonly number[], command: number): Said {
    const pid = pidOf(bytes);
    const entry = this.device.lacks.has(pid) ? undefined : (PARAMETER_ENTRIES.get(pid) ?? ownEntry(this.device, pid));
    if (!entry) return UNKNOWN;
    const act = command === 0x20 ? entry.get : entry.set;
    return act ? act(this.device, bytes.slice(24, 24 + (bytes[23] ?? 0))) : NOT_THIS_WAY;
  }

  private saying(bytes: readonly number[], pid: number, command: number, said: Said): Utterance {
    if ("refuse" in said)
      return this.reply(bytes, { type: 2, pid, command, data: [said.refuse >> 8, said.refuse & 255] });
    if (said.length > MOST_DATA) return this.piece(bytes, said);
    return this.reply(bytes, { type: 0, pid, command, data: said });
  }

  /** As much of an answer as fits; the rest comes when the same is asked again. */
  private piece(bytes: readonly number[], all: readonly number[]): Utterance {
    const [data, rest] = [all.slice(0, 230), all.slice(230)];
    const pid = pidOf(bytes);
    this.unsent = rest.length > 0 ? { pid, bytes: rest } : undefined;
    return this.reply(bytes, { type: rest.length > 0 ? 3 : 0, pid, command: 0x21, data });
  }

  private reply(
    asked: readonly number[],
    { type, pid, command, data }: { type: number; pid: number; command: number; data: readonly number[] },
  ): Utterance {
    const head = [0xcc, 1, 24 + data.length, ...asked.slice(9, 15), ...this.device.uid, asked[15] ?? 0, type];
    const body = [...head, Math.min(255, this.queue.length), 0, 0, command, pid >> 8, pid & 255, data.length, ...data];
    const sum = total(body);
    return { bytes: [...body, (sum >> 8) & 255, sum & 255], bare: false };
  }
}

const total = (bytes: readonly number[]) => bytes.reduce((sum, byte) => sum + byte, 0) % 65536;
/** Whether the number at `at` is not above `me`, byte by byte. */
const isUpTo = (bytes: readonly number[], at: number, me: readonly number[], equal?: "not equal"): boolean => {
  for (const [index, mine] of me.entries()) {
    const byte = bytes[at + index] ?? 0;
    if (byte !== mine) return byte < mine;
  }
  return equal === undefined;
};
const same = (a: readonly number[], b: readonly number[]) => a.every((byte, at) => byte === b[at]);
const pidOf = (bytes: readonly number[]) => (bytes[21] ?? 0) * 256 + (bytes[22] ?? 0);

const isSummed = (bytes: readonly number[]) => {
  const length = bytes[2] ?? 0;
  return total(bytes.slice(0, length)) === (bytes[length] ?? -1) * 256 + (bytes[length + 1] ?? -1);
};

/** Its own number, everybody's, or everybody's of its manufacturer. */
const isMeant = (bytes: readonly number[], at: number, me: readonly number[]): boolean => {
  const all = bytes[at + 2] === 255 && bytes[at + 3] === 255 && bytes[at + 4] === 255 && bytes[at + 5] === 255;
  const maker = bytes[at] === me[0] && bytes[at + 1] === me[1];
  if (all) return maker || (bytes[at] === 255 && bytes[at + 1] === 255);
  return (
    maker && bytes[at + 2] === me[2] && bytes[at + 3] === me[3] && bytes[at + 4] === me[4] && bytes[at + 5] === me[5]
  );
};
