import fc from "fast-check";
import { expect, test } from "vitest";
import { artDmxPacket } from "../../src/wire/art-net.ts";

test("the published example: net 4, sub-net 2, universe 3, six slots", () => {
  // Art-Net 4 (secondary), an example printed with its bytes.
  const packet = artDmxPacket({
    universe: 4 * 256 + 2 * 16 + 3,
    sequence: 0,
    physical: 1,
    levels: Uint8Array.of(0, 1, 2, 3, 4, 5),
  });
  expect(
    Buffer.from(packet)
      .toString("hex")
      .toUpperCase()
      .replaceAll(/(..)(?!$)/g, "$1 "),
  ).toBe("41 72 74 2D 4E 65 74 00 00 50 00 0E 00 01 23 04 00 06 00 01 02 03 04 05");
});

test("slot n stands at 17 + n, and the length of a full universe is 02 00", () => {
  fc.assert(
    fc.property(
      fc.uint8Array({ minLength: 512, maxLength: 512 }),
      fc.integer({ min: 1, max: 255 }),
      (levels, sequence) => {
        const packet = artDmxPacket({ universe: 32_767, sequence, physical: 0, levels });
        expect([packet.length, packet[12], packet[16], packet[17]]).toEqual([530, sequence, 2, 0]);
        expect([packet[14], packet[15]]).toEqual([0xff, 0x7f]);
        for (const slot of [1, 2, 511, 512]) expect(packet[17 + slot]).toBe(levels[slot - 1]);
        expect([...packet.subarray(18)]).toEqual([...levels]);
      },
    ),
  );
});

test.each([0, 3, 514])("%i slots are our own mistake", (slots) => {
  expect(() => artDmxPacket({ universe: 0, sequence: 1, physical: 0, levels: new Uint8Array(slots) })).toThrow("Bug");
});
