import { expect, test } from "vitest";
import { FRAMES_PER_SECOND } from "../../src/domain/units.ts";
import { packetTime } from "../../src/wire/packet-time.ts";

/** Worked from the bit times of ANSI E1.11-2008 (R2018), which are secondary here: read in open implementations. */
test.each([
  { slots: 512, breakTime: 92, markTime: 12, us: 22_676 },
  { slots: 512, breakTime: 176, markTime: 12, us: 22_760 },
  { slots: 24, breakTime: 92, markTime: 12, us: 1204 },
  { slots: 32, breakTime: 92, markTime: 12, us: 1556 },
  { slots: 64, breakTime: 92, markTime: 12, us: 2964 },
  { slots: 128, breakTime: 92, markTime: 12, us: 5780 },
  { slots: 256, breakTime: 92, markTime: 12, us: 11_412 },
])("$slots slots at $breakTime/$markTime us take $us us", ({ slots, breakTime, markTime, us }) => {
  expect(packetTime(slots, breakTime, markTime)).toBe(us);
});

test("fewer than 24 slots take no less than 1204 us from break to break", () => {
  expect(packetTime(1)).toBe(1204);
});

test("a full universe fits between two of our frames", () => {
  expect(packetTime(512)).toBeLessThan(1_000_000 / FRAMES_PER_SECOND);
});
