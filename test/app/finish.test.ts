import { afterAll, expect, test } from "vitest";
import { builtStore } from "../io/store/built-store.ts";
import { workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

const SEQUENCE = place.file(
  "short.yaml",
  `sequence: short
title: Short
steps:
  - inspect: outside
  - power-up: fixture
  - { sweep: Iris, seconds: 0.6, passes: 4 }
  - { sweep: Pan, seconds: 2, passes: 2 }
  - { shake: [Pan, Tilt], seconds: 1 }
`,
);
const JOURNAL = ["--journal", place.journal, "--person", "KM"];
const FAST = ["--fast", "--watcher", "3", ...JOURNAL];
const next = (words: string): string => /next: ([\s\S]*?)\n\n/.exec(words)?.[1]?.replaceAll(/\s+/g, " ") ?? "";

/** The simulated person inspects and repairs, measures nothing and signs nothing: those are a competent person's. */
test("limber finish does what is still to be done, says beforehand what that is, and asks for a person where one is needed", () => {
  const first = place.limber("sweep", SEQUENCE, "--serial", "A-17", "--set", "none", ...FAST);
  expect(next(first.out)).toContain("limber finish A-17 plays, asks and measures what is still to do");

  const again = place.limber("finish", "A-17", ...FAST);
  expect(again.code).toBe(0);
  expect(again.err).toMatch(/Still to be done: \d+ inspections, .*measurement.*; then the signature\./);
  expect(again.out).toContain("wires into the yoke, both ends");
  expect(again.out).not.toMatch(/^ {2}- .*: not inspected/m);

  place.limber("found", /run (\S+),/.exec(again.out)?.[1] ?? "", "iris-leaf-bent", ...JOURNAL);
  const refused = place.limber("finish", "A-17", ...FAST);
  expect(refused.code).toBe(2);
  expect(refused.err).toContain("found, not repaired: iris leaf bent");
  expect(refused.err).toContain('Repair it, record that with "limber repaired A-17 FAULT", then limber finish.');

  const signed = place.limber("sign", "A-17", ...JOURNAL);
  expect(signed.code).toBe(2);
  expect(signed.err).toContain('"limber repaired A-17 FAULT"');
}, 240_000);

/** As a finishing stands that was stopped before its first answer. */
const stoppedFinishing = async (after: string): Promise<string> => {
  const { openJournal } = await builtStore();
  const journal = await openJournal(place.journal);
  const events = await journal.events(after);
  const opened = events.find(({ body }) => body.kind === "run-opened");
  if (opened?.body.kind !== "run-opened") throw new Error(`the run ${after} never opened`);
  const run = `${after}-finishing`;
  const steps = opened.body.steps.slice(0, 2);
  await journal.append({ ...opened, id: "f1", run, body: { ...opened.body, steps, replays: after, finishing: true } });
  await journal.append({ ...opened, id: "f2", run, body: { kind: "run-closed", how: "stopped" } });
  await journal.close();
  return run;
};

test("a finishing that was stopped goes on with the work by hand that is still to be done", async () => {
  const first = place.limber("sweep", SEQUENCE, "--serial", "C-3", "--set", "none", "--new", ...FAST);
  const run = await stoppedFinishing(/run (\S+),/.exec(first.out)?.[1] ?? "");
  const again = place.limber("resume", run, ...FAST);
  expect(again.err).not.toContain("Bug");
  expect(again.out).toContain("wires into the yoke, both ends");
  expect(again.out).not.toMatch(/^ {2}- .*: not looked at/m);
}, 240_000);

test("a serial number that no run has is said", () => {
  const { code, err } = place.limber("finish", "B-99", ...FAST);
  expect({ code, err }).toEqual({
    code: 2,
    err: expect.stringContaining("no run of a fixture with this serial number"),
  });
}, 60_000);
