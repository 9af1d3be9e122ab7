import { afterAll, expect, test } from "vitest";
import { workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

test("shipped sequences are of use on every kind of fixture that comes with them", () => {
  const { code, out, err } = place.limber("sequence", "check", "quick", "check-in", "soak");
  expect(err).toBe("");
  expect(out).toMatch(
    /^quick: nothing to correct\. Quick check, no questions until the end, \d+ steps, worked out for \d+ kinds of fixture\.$/m,
  );
  expect(code).toBe(0);
});

test("a sequence of little use is told with places and exits 2; one that is wrong is told what is wrong", () => {
  const odd = place.file(
    "odd.yaml",
    "sequence: odd\ntitle: Odd\nsteps:\n  - { snap: Dimmer, times: 8, dwell_s: 0.05 }\n",
  );
  const wrong = place.file("wrong.yaml", "sequence: wrong\ntitle: Wrong\nsteps:\n  - swep: Pan\n");
  const { code, err } = place.limber("sequence", "check", odd, wrong);
  expect(err).toContain(
    "odd.yaml:4:5: 5 flashes in a second: it is played dark, or not at all (a longer dwell_s or more seconds, or beam: shut)",
  );
  expect(err).toContain("2 things to look at; the sequence can be played.");
  expect(err).toContain('"swep" is not a known routine (did you mean "sweep"?)');
  expect(code).toBe(2);
});
