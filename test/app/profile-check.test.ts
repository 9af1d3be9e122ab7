import { afterAll, expect, test } from "vitest";
import { workplace } from "../kit/limber.ts";
import { shippedText } from "../kit/shipped.ts";

const place = workplace();
afterAll(() => place.remove());

test("a sound profile is said to be sound, by its name or as a file", () => {
  const file = place.file("beam.yaml", shippedText("profiles/beam.yaml"));
  const { code, out } = place.limber("profile", "check", "beam", file);
  expect(code).toBe(0);
  expect(out).toBe("beam: nothing to correct. Beam, 18 slots, 11 functions.\n".repeat(2));
});

test("what would mislead is told with its place and exits 2, beside what is sound", () => {
  const file = place.file(
    "slow.yaml",
    shippedText("profiles/beam.yaml").replace("full_travel_s: 2.1", "full_travel_s: 2100"),
  );
  const { code, out, err } = place.limber("profile", "check", "beam", file);
  expect(code).toBe(2);
  expect(out).toContain("beam: nothing to correct.");
  expect(err).toMatch(
    /slow\.yaml:\d+:74: 2100 seconds, longer than anything of the kind takes \(full_travel_s: 2\.1 if/,
  );
  expect(err).toContain("2 things to look at; the profile can be used.");
});

test("what makes a profile unusable is told instead", () => {
  const { code, err } = place.limber("profile", "check", place.file("no.yaml", "profile: no\n"));
  expect(code).toBe(2);
  expect(err).toContain('"title" is missing');
  expect(err).not.toContain("can be used");
});
