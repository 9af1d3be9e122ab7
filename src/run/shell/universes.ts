import { EventEmitter } from "node:events";
import { DMX } from "dmx-ts/dist/src/DMX.js";
import type { IUniverseDriver, UniverseData } from "dmx-ts/dist/src/models/IUniverseDriver.js";
import type { DmxLine, LineError, Meeting } from "../ports.ts";
import type { OpenedLines } from "./frame-sender.ts";

/** The universes of a run on their lines, registered with dmx-ts. What it opens and sends rejects with LineError. */
export const universesOn = (lines: ReadonlyMap<number, DmxLine>): OpenedLines => {
  const register = new DMX();
  const registered = new Map<number, LineDriver>();
  return {
    open: async (universe, lost, meeting) => {
      const line = lines.get(universe);
      if (line === undefined) throw new Error(`Bug: universe ${universe} has no DMX line`);
      const driver = new LineDriver(line, lost, meeting);
      await register.addUniverse(String(universe), driver);
      registered.set(universe, driver);
    },
    send: (universe, levels) => {
      const driver = registered.get(universe);
      if (driver === undefined) return "dropped";
      register.update(String(universe), packetOf(levels));
      return driver.fate;
    },
    // Not through the register: it knows nothing of a DMX line that is just being opened, and stops at the first that fails.
    close: async () => {
      await Promise.allSettled([...lines.values()].map((line) => line.close()));
      register.removeAllListeners();
    },
  };
};

/** The register counts slots from 1; what stands at 0 is the start code. */
const packetOf = (levels: Uint8Array): UniverseData => {
  const packet = new Uint8Array(1 + levels.length);
  packet.set(levels, 1);
  return packet;
};

/** A DMX line as dmx-ts wants its drivers: every update goes out at once as a whole frame. */
class LineDriver extends EventEmitter implements IUniverseDriver {
  /** What became of the last frame. */
  fate: "sent" | "dropped" = "dropped";
  readonly #levels = new Uint8Array(512);
  readonly #line: DmxLine;
  readonly #lost: (error: LineError) => void;
  readonly #meeting: Meeting | undefined;

  constructor(line: DmxLine, lost: (error: LineError) => void, meeting: Meeting | undefined) {
    super();
    this.#line = line;
    this.#lost = lost;
    this.#meeting = meeting;
  }

  init(): Promise<void> {
    return this.#line.open(this.#lost, this.#meeting);
  }

  update(channels: UniverseData, extraData?: unknown): void {
    for (let slot = 1; slot <= 512; slot += 1) {
      const level = channels[slot];
      if (level !== undefined) this.#levels[slot - 1] = level;
    }
    this.#send();
    this.emit("update", channels, extraData);
  }

  /** A copy, so that a DMX line may keep what it was given. */
  #send(): void {
    this.fate = this.#line.send(this.#levels.slice());
  }

  get(channel: number): number {
    return this.#levels[channel - 1] ?? 0;
  }

  updateAll(value: number): void {
    this.#levels.fill(value);
    this.#send();
  }

  close(): Promise<void> {
    return this.#line.close();
  }
}
