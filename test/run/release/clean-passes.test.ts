import { expect, test } from "vitest";
import type { EventBody } from "../../../src/run/events/event.ts";
import { cleanPassesNeeded, comesAndGoes, seenIn } from "../../../src/run/release/clean-passes.ts";
import { judged, opened, STEPS, started, told } from "./path.ts";

/** Worked from (1 - share) ^ n <= 0.05. */
test.each([
  { share: 0.5, needed: 5 },
  { share: 0.3, needed: 9 },
  { share: 0.2, needed: 14 },
  { share: 0.1, needed: 29 },
  { share: 1, needed: 1 },
])("seen in $share of the passes, $needed clean ones are needed", ({ share, needed }) => {
  expect(cleanPassesNeeded(share)).toBe(needed);
});

test("three clean passes never prove it, unless it showed in more than six of ten", () => {
  for (let share = 0.01; share < 0.63; share += 0.01) expect(cleanPassesNeeded(share)).toBeGreaterThan(3);
});

const press: EventBody = { kind: "pressed", step: "pan", attempt: 1, frame: 10, after_s: 1 };
/** A sweep of ten passes. */
const ten = {
  ...STEPS.pan,
  moves: Array.from(
    { length: 10 },
    (_, n) =>
      ["Pan", n % 2, (n + 1) % 2, n * 4, 4] as [(typeof STEPS.pan.functions)[number], number, number, number, number],
  ),
};
const opening = { ...(opened(["pan"]) as Extract<EventBody, { kind: "run-opened" }>), steps: [ten] };
const historyOf = (...bodies: readonly EventBody[]) => [opening, ...bodies].map((body) => told(body));

test("presses say in how many passes it was seen; clean passes count from the last fail on", () => {
  const failing = [started("pan"), press, press, judged("pan", "fail")];
  expect(seenIn(historyOf(...failing), ten.fingerprint)).toEqual({ passes: 10, shown: 2, clean: 0, needed: 14 });
  const clean = [started("pan"), judged("pan", "pass")];
  expect(seenIn(historyOf(...failing, ...clean), ten.fingerprint)).toEqual({
    passes: 10,
    shown: 2,
    clean: 10,
    needed: 14,
  });
  expect(seenIn(historyOf(...failing, ...clean, ...clean), ten.fingerprint)?.clean).toBe(20);
  expect(seenIn(historyOf(...failing, ...clean, ...failing), ten.fingerprint)).toMatchObject({
    passes: 30,
    shown: 4,
    clean: 0,
  });
});

test("an answer about a slower try that is taken back leaves the fail before it", () => {
  const failing = [started("pan"), press, press, judged("pan", "fail")];
  const slow = { ...(started("pan") as Extract<EventBody, { kind: "step-started" }>), attempt: 2, pace: 0.5 };
  const takenBack: EventBody = { kind: "step-corrected", step: "pan", attempt: 2 };
  const history = historyOf(...failing, slow, judged("pan", "pass"), takenBack);
  expect(seenIn(history, ten.fingerprint)).toMatchObject({ passes: 10, shown: 2, clean: 0 });
});

test("what showed in every pass does not come and go; without a press nobody can count", () => {
  const presses = Array.from({ length: 10 }, () => press);
  const always = seenIn(historyOf(started("pan"), ...presses, judged("pan", "fail")), ten.fingerprint);
  expect(always && comesAndGoes(always)).toBe(false);
  expect(seenIn(historyOf(started("pan"), judged("pan", "fail")), ten.fingerprint)).toBeUndefined();
});
