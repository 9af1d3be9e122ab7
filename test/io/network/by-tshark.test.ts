import { beforeAll, describe, expect, test } from "vitest";
import { artNetLine, sacnLine } from "../../../src/io/network/lines.ts";
import type { DmxLine } from "../../../src/run/ports.ts";
import { loopbackAddress, type Receiver, receiverAt } from "./receiver.ts";
import { capturing, type Decoded, tsharkMissing } from "./tshark.ts";

const missing = tsharkMissing();

/** Every level in some slot, and in every frame another one. */
const ramp = (frame: number) => Uint8Array.from({ length: 512 }, (_, slot) => (slot + frame) & 255);
/** Only one slot is not 0. */
const alone = (slot: number) => Uint8Array.from({ length: 512 }, (_, index) => (index === slot - 1 ? 255 : 0));
const FRAMES = [alone(1), alone(512), ...Array.from({ length: 256 }, (_, frame) => ramp(frame))];

/** One after the other, each heard before the next, then the line is closed. */
const play = async (line: DmxLine, receiver: Receiver) => {
  await line.open(() => {});
  for (const [index, levels] of FRAMES.entries()) {
    while (line.send(levels) !== "sent") await new Promise((resolve) => setImmediate(resolve));
    await receiver.heard(index + 1);
  }
  await line.close();
};

describe.skipIf(missing !== undefined)(`on the wire, read by tshark${missing ? ` - ${missing}` : ""}`, () => {
  let read: Readonly<Record<"sacn" | "artnet", readonly Decoded[]>>;
  beforeAll(async () => {
    const [first, second] = [loopbackAddress(), loopbackAddress()];
    const [acn, art] = [await receiverAt(first, 5568), await receiverAt(second, 6454)];
    read = {
      sacn: await capturing(first, () => play(sacnLine("net", 63_999, first), acn)),
      artnet: await capturing(second, () => play(artNetLine("net", 32_767, second), art)),
    };
  }, 60_000);

  test.each(["sacn", "artnet"] as const)("%s: slot 1 is slot 1 and slot 512 is slot 512", (protocol) => {
    expect(read[protocol][0]?.slots).toEqual([...alone(1)]);
    expect(read[protocol][1]?.slots).toEqual([...alone(512)]);
  });

  test.each(["sacn", "artnet"] as const)("%s: all 256 levels arrive as they are, in every slot", (protocol) => {
    expect(read[protocol].slice(0, FRAMES.length).map(({ slots }) => slots.join())).toEqual(
      FRAMES.map((levels) => levels.join()),
    );
  });

  test("sacn: numbered from 0 to 255 and again, on the universe that was named", () => {
    expect(read.sacn.map(({ sequence }) => sequence)).toEqual(read.sacn.map((_, index) => index & 255));
    expect(new Set(read.sacn.map(({ universe }) => universe))).toEqual(new Set([63_999]));
  });

  test("artnet: numbered from 1 to 255 and again from 1, since 0 would not count", () => {
    expect(read.artnet.map(({ sequence }) => sequence)).toEqual(read.artnet.map((_, index) => 1 + (index % 255)));
    expect(new Set(read.artnet.map(({ universe }) => universe))).toEqual(new Set([32_767]));
  });

  test("sacn: one source of priority 100, and three terminated packets at the end, nowhere else", () => {
    const sources = [...new Set(read.sacn.map(({ source }) => source))];
    expect(sources).toEqual([expect.stringMatching(/^[0-9a-f-]{36} Limber 100$/)]);
    const ended = read.sacn.map(({ terminated }) => terminated);
    expect(ended).toEqual([...FRAMES.map(() => false), true, true, true]);
  });

  test("artnet: nothing but the frames", () => {
    expect(read.artnet.length).toBe(FRAMES.length);
  });
});
