import type { RdmDoor } from "../../run/ports.ts";
import { chanceFrom, type SimDraw } from "../chance.ts";
import type { Device } from "./device.ts";
import { Responder, type Utterance } from "./responder.ts";

/** What may go wrong on a simulated cable. */
export interface CableTroubles {
  /** The share of answers that nobody hears, 0 to 1. */
  readonly lost: number;
  /** What becomes of one fixture's answer on its way; undefined when it does not come at all. */
  readonly spoil: (said: Utterance, device: Device) => Utterance | undefined;
}

export const SOUND_CABLE: CableTroubles = { lost: 0, spoil: (said) => said };

/**
 * Simulated fixtures on one cable: hears a packet, and gives what a receiver would read. Two who answer at once drive the
 * line against each other: where both send, a bit is as either has it, and one may begin later than the other.
 */
export class Cable {
  readonly responders: Responder[];
  private readonly troubles: CableTroubles;
  private readonly chance: SimDraw;
  /** Packets that were sent and bytes that came back, for figures. */
  readonly traffic = { requests: 0, bytesOut: 0, bytesBack: 0, collisions: 0 };

  constructor(devices: readonly Device[], chance: SimDraw, troubles: CableTroubles = SOUND_CABLE) {
    this.responders = devices.map((device) => new Responder(device));
    this.troubles = troubles;
    this.chance = chance;
  }

  /** Sends the bytes of a packet and gives what comes back; undefined when nobody answers. */
  send(packet: Uint8Array): Uint8Array | undefined {
    const bytes = [...packet];
    this.traffic.requests += 1;
    this.traffic.bytesOut += bytes.length;
    const said = this.responders.flatMap((one) => {
      const answer = one.hear(bytes);
      const spoilt = answer && this.troubles.spoil(answer, one.device);
      return spoilt && this.chance() >= this.troubles.lost ? [spoilt.bytes] : [];
    });
    if (said.length > 1) this.traffic.collisions += 1;
    const heard = said.length === 0 ? undefined : this.mixed(said);
    this.traffic.bytesBack += heard?.length ?? 0;
    return heard && Uint8Array.from(heard);
  }

  private mixed(said: readonly (readonly number[])[]): readonly number[] {
    return said.reduce((first, second) => {
      const late = Math.floor(this.chance() * 3);
      const length = Math.max(first.length, late + second.length);
      return Array.from({ length }, (_, at) => this.fight(first[at], second[at - late]));
    });
  }

  private fight(a: number | undefined, b: number | undefined): number {
    if (a === undefined || b === undefined) return a ?? b ?? 0;
    const wins = Math.floor(this.chance() * 256);
    return (a & wins) | (b & ~wins & 255);
  }
}

/**
 * The simulated line's answer to questions: simulated fixtures answer at once, unless their mains is off. `seed` is any
 * whole number, for what two answers at once leave of each other.
 */
export const simRdmDoor = (devices: readonly Device[], seed = 1): RdmDoor => {
  const cable = new Cable(devices, chanceFrom(seed));
  return {
    name: "sim",
    open: async () => {},
    exchange: async ({ packet, answered }) => {
      const bytes = cable.send(packet);
      return answered === "by-nobody" || bytes === undefined ? { kind: "nothing" } : { kind: "bytes", bytes };
    },
    searched: { kind: "by-us" },
    close: async () => {},
  };
};
