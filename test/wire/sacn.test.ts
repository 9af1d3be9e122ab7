import { createRequire } from "node:module";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type SacnFrame, sacnGroup, sacnPacket } from "../../src/wire/sacn.ts";

const cid = Uint8Array.from({ length: 16 }, (_, index) => 0xa0 + index);
const frame: SacnFrame = {
  source: { cid, name: "Limber" },
  universe: 4660,
  sequence: 200,
  levels: Uint8Array.from({ length: 512 }, (_, slot) => slot & 255),
  stream: "running",
};
const hex = (bytes: Uint8Array, from: number, length: number) =>
  Buffer.from(bytes.subarray(from, from + length)).toString("hex");

// ANSI E1.31, secondary: offsets read in open implementations and quotations of the standard.
test.each([
  { at: 0, is: "001000004153432d45312e3137000000", because: "preamble size, no post-amble, the ACN packet identifier" },
  { at: 16, is: "726e00000004", because: "root layer: flags and length, vector 4" },
  { at: 22, is: "a0a1a2a3a4a5a6a7a8a9aaabacadaeaf", because: "the CID says who sends" },
  { at: 38, is: "725800000002", because: "framing layer: flags and length, vector 2" },
  { at: 44, is: `4c696d626572${"00".repeat(58)}`, because: "the name fills 64 bytes with zeros" },
  { at: 108, is: "64", because: "priority 100 is the standard's middle" },
  { at: 109, is: "0000", because: "not synchronised with anything" },
  { at: 111, is: "c8", because: "the sequence number" },
  { at: 112, is: "00", because: "no preview, and the stream goes on" },
  { at: 113, is: "1234", because: "universe 4660, high byte first" },
  { at: 115, is: "720b02a1000000010201", because: "DMP layer: 513 values from 0 by ones" },
  { at: 125, is: "00000102", because: "start code 0, then slots 1, 2 and 3" },
])("byte $at: $because", ({ at, is }) => {
  const packet = sacnPacket(frame);
  expect(packet.length).toBe(638);
  expect(hex(packet, at, is.length / 2)).toBe(is);
});

test("slot n stands at 125 + n, whatever its level", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 512 }), fc.integer({ min: 0, max: 255 }), (slot, level) => {
      const levels = new Uint8Array(512);
      levels[slot - 1] = level;
      expect([...sacnPacket({ ...frame, levels }).subarray(126)]).toEqual([...levels]);
      expect(sacnPacket({ ...frame, levels })[125 + slot]).toBe(level);
    }),
  );
});

test("a terminated stream says so in one bit and in nothing else", () => {
  const [running, ended] = [sacnPacket(frame), sacnPacket({ ...frame, stream: "terminated" })];
  const differing = [...running.keys()].filter((at) => running[at] !== ended[at]);
  expect(differing).toEqual([112]);
  expect(ended[112]).toBe(0x40);
});

test.each([
  { universe: 1, group: "239.255.0.1" },
  { universe: 4660, group: "239.255.18.52" },
  { universe: 63_999, group: "239.255.249.255" },
])("universe $universe goes to $group", ({ universe, group }) => {
  expect(sacnGroup(universe)).toBe(group);
});

test("another open implementation reads what we write, and writes the same bytes", () => {
  // The packets of sacn, the package under dmx-ts 0.4.0; its levels are per cent.
  const { Packet } = createRequire(import.meta.url)("sacn/dist/packet.js") as { Packet: OtherPacket };
  fc.assert(
    fc.property(
      fc.uint8Array({ minLength: 512, maxLength: 512 }),
      fc.integer({ min: 1, max: 63_999 }),
      fc.integer({ min: 0, max: 255 }),
      (levels, universe, sequence) => {
        const ours = sacnPacket({ ...frame, levels, universe, sequence });
        const read = new Packet(Buffer.from(ours));
        expect([read.universe, read.sequence, read.priority]).toEqual([universe, sequence, 100]);
        const payload = Object.fromEntries(Array.from(levels, (level, slot) => [slot + 1, (level / 255) * 100]));
        const options = { universe, sequence, payload, priority: 100, sourceName: "Limber", cid: Buffer.from(cid) };
        expect(hex(new Packet(options).buffer, 0, 638)).toBe(hex(ours, 0, 638));
      },
    ),
    { numRuns: 30 },
  );
});

type OtherPacket = new (
  from: Buffer | object,
) => { readonly universe: number; readonly sequence: number; readonly priority: number; readonly buffer: Buffer };

test.each([
  { wrong: { levels: new Uint8Array(513) }, because: "more slots than there are" },
  { wrong: { levels: new Uint8Array(0) }, because: "no slots" },
  { wrong: { source: { cid: new Uint8Array(8), name: "x" } }, because: "half a CID" },
  { wrong: { source: { cid, name: "é".repeat(32) } }, because: "a name of 64 bytes leaves no room for its end" },
])("$because: our own mistake", ({ wrong }) => {
  expect(() => sacnPacket({ ...frame, ...wrong })).toThrow("Bug");
});
