import { expect, test } from "vitest";
import { FRAMES_PER_SECOND } from "../../src/domain/units.ts";
import { packetRate, packetTime } from "../../src/wire/packet-time.ts";

/** Worked from the bit times of ANSI E1.11-2008 (R2018), which are secondary here: read in open implementations. */
test.each([
  { slots: 512, breakTime: 92, markTime: 12, us: 22_676, hz: 44.1 },
  { slots: 512, breakTime: 176, markTime: 12, us: 22_760, hz: 43.94 },
  { slots: 24, breakTime: 92, markTime: 12, us: 1204, hz: 830.56 },
  { slots: 32, breakTime: 92, markTime: 12, us: 1556, hz: 642.67 },
  { slots: 64, breakTime: 92, markTime: 12, us: 2964, hz: 337.38 },
  { slots: 128, breakTime: 92, markTime: 12, us: 5780, hz: 173.01 },
  { slots: 256, breakTime: 92, markTime: 12, us: 11_412, hz: 87.63 },
])("$slots slots at $breakTime/$markTime us take $us us", ({ slots, breakTime, markTime, us, hz }) => {
  expect(packetTime(slots, breakTime, markTime)).toBe(us);
  expect(packetRate(slots, breakTime, markTime)).toBeCloseTo(hz, 2);
});

test("fewer than 24 slots take no less than 1204 us from break to break", () => {
  expect(packetTime(1)).toBe(1204);
});

test("a full universe fits between two of our frames", () => {
  expect(packetRate(512)).toBeGreaterThan(FRAMES_PER_SECOND);
});
