import { expect, test } from "vitest";
import { studentQuantile } from "../../../src/domain/statistics/distributions.ts";

/** scipy 1.17, scipy.stats.t.ppf. */
test.each([
  { probability: 0.975, freedom: 1, t: 12.706204736174694 },
  { probability: 0.975, freedom: 1.3, t: 7.500529325562029 },
  { probability: 0.975, freedom: 2.5, t: 3.5746548420036817 },
  { probability: 0.975, freedom: 7, t: 2.364624251592784 },
  { probability: 0.975, freedom: 100, t: 1.9839715185235518 },
  { probability: 0.9999, freedom: 1, t: 3183.098757118502 },
  { probability: 0.9999, freedom: 2.5, t: 34.867969321116306 },
  { probability: 0.975, freedom: 1e4, t: 1.960201239890626 },
  { probability: 0.5, freedom: 3, t: 0 },
  { probability: 0.025, freedom: 7, t: -2.364624251592784 },
])("Student's t at $probability with $freedom degrees of freedom is $t", ({ probability, freedom, t }) => {
  expect(studentQuantile(probability, freedom)).toBeCloseTo(t, 6);
});
