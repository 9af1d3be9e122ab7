import { readFileSync } from "node:fs";
import { afterAll, expect, test } from "vitest";
import { readProfile } from "../../src/data/profile/parse.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { must } from "../kit/shipped.ts";
import { inTerminal, type TerminalRun } from "../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

/** What the simulated fixture really is. */
const REAL = `profile: real
title: Little, 6 slots
slots: 6
power_up_s: 5
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan: { slots: [1, 2], from_deg: -270, to_deg: 270, full_travel_s: 0.7, lag_s: 0.1 }
  Tilt: { slots: [3, 4], from_deg: -135, to_deg: 135, full_travel_s: 0.7, lag_s: 0.1 }
  Dimmer: { slots: [5], from_pct: 0, to_pct: 100, full_travel_s: 0.3 }
  Zoom: { slots: [6], from_deg: 8, to_deg: 40, full_travel_s: 0.4 }
rest: { Dimmer: 0 }
`;
const slip = (text: string, [from, to]: readonly [string, string]): string => {
  expect(text).toContain(from);
  return text.replace(from, to);
};
/** The same as somebody copied it from the chart. */
const COPIED = (
  [
    ["profile: real", "# Copied on a Friday.\nprofile: copied"],
    ["Pan: { slots: [1, 2]", "Pan: { slots: [2, 1]"],
    [
      "from_deg: -135, to_deg: 135, full_travel_s: 0.7, lag_s: 0.1 }",
      "from_deg: -135, to_deg: 135, full_travel_s: 1.2, lag_s: 0.1 }   # time guessed, not measured",
    ],
    ["Dimmer: { slots: [5]", "Dimmer: { slots: [6]"],
    ["Zoom: { slots: [6]", "Zoom: { slots: [5]"],
    ["from_deg: 8, to_deg: 40", "from_deg: 40, to_deg: 8"],
  ] as const
).reduce(slip, REAL);

type Rules = readonly (readonly [says: RegExp, types: string])[];

/** Somebody at the terminal: types an answer whenever the program comes to say something, until it says the last thing. */
const answerer = (run: TerminalRun) => {
  let heard = 0;
  const react = (rules: Rules): boolean => {
    const fresh = run.output().slice(heard);
    const hits = rules.flatMap(([says, types]) => {
      const hit = says.exec(fresh);
      return hit ? [{ end: hit.index + hit[0].length, types }] : [];
    });
    const [first] = hits.sort((a, b) => a.end - b.end);
    heard += first?.end ?? 0;
    if (first) run.type(first.types);
    return first !== undefined;
  };
  return (rules: Rules, last: RegExp): Promise<string> =>
    run.until(() => {
      while (react(rules));
      return last.test(run.output().slice(heard));
    }, 240_000);
};

/** As somebody answers who sees the real fixture: pan's coarse slot is told to be its fine one, so nothing moves; dimmer and zoom are exchanged. */
const SEEN = [
  [/C and ENTER: all of this is confirmed/, "c\r"],
  [/What moved\?[^\n]*\[pan\]/, "nothing\r"],
  [/What moved\?[^\n]*\[dimmer\]/, "zoom\r"],
  [/What moved\?[^\n]*\[zoom\]/, "dimmer\r"],
  [/What moved\?[^\n]*\[tilt\]/, "\r"],
] as const;

test("a profile with four slips is proved, put right and timed; comments stay, and nothing is written before the last yes", async () => {
  const file = place.file("copied.yaml", COPIED);
  const real = place.file("real.yaml", REAL);
  const args = ["profile", "prove", file, "--output", "sim", "--really", real];
  const run = inTerminal([program(), ...args], { columns: 120, rows: 50 });
  const answer = answerer(run);
  await answer(SEEN, /What was seen goes with this:/);
  await answer(
    [
      [/have each other's slots\.\s+Change the profile so\? yes or \[no\]/, "yes\r"],
      [/coarse and fine slot are exchanged\.\s+Change the profile so\? yes or \[no\]/, "yes\r"],
      [/C and ENTER: all of this is confirmed/, "c\r"],
      [/it stands still/, "\r"],
      [/zoom: from 40 degrees to 8 degrees, and back\. Was it so\?/, "other way\r"],
      [/(?:pan|tilt|dimmer): from [^\n]* Was it so\?/, "y\r"],
      [/zoom goes the other way round\.\s+Change the profile so\? yes or \[no\]/, "yes\r"],
      [/- tilt: [^\n]* the profile says 1\.2 s\.\s+Take the measured time\? yes or \[no\]/, "yes\r"],
      [/- (?:pan|dimmer|zoom): [^\n]*\s+Take the measured time\? yes or \[no\]/, "\r"],
    ],
    /Write this into/,
  );
  expect(readFileSync(file, "utf8")).toBe(COPIED);
  run.type("yes\r");
  expect(await run.ended).toBe(0);
  const text = readFileSync(file, "utf8");
  const [, seconds = ""] =
    /Tilt: .*full_travel_s: ([\d.]+), lag_s: 0\.1 \} {3}# measured on a simulated fixture: \1 s, plus or minus [\d.]+ s, by 4 presses\n/.exec(
      text,
    ) ?? [];
  // It really takes 0.7 s; a script presses at once, so the usual reaction of 0.4 s is taken off too much.
  expect(Number(seconds)).toBeGreaterThanOrEqual(0.1);
  expect(Number(seconds)).toBeLessThan(1.2);
  const put = text.replace(/(Tilt: .*full_travel_s: )[\d.]+(, lag_s: 0\.1 \}) .*\n/, "$10.7$2\n");
  expect(put).toBe(REAL.replace("profile: real", "# Copied on a Friday.\nprofile: copied"));
  must(readProfile("copied.yaml", text));
}, 300_000);

test("a fixture that stands at another address is said to, and the profile is left alone", async () => {
  const file = place.file("right.yaml", REAL.replace("profile: real", "profile: right"));
  const really = place.file(
    "shifted.yaml",
    `${REAL.replace("profile: real", "profile: shifted")
      .replace("slots: 6", "slots: 8")
      .replace(
        /slots: \[(\d)(?:, (\d))?\]/g,
        (_, a, b) => `slots: [${Number(a) + 2}${b ? `, ${Number(b) + 2}` : ""}]`,
      )}`,
  );
  const run = inTerminal([program(), "profile", "prove", file, "--output", "sim", "--really", really], {
    columns: 120,
    rows: 50,
  });
  await answerer(run)(
    [
      [/C and ENTER: all of this is confirmed/, "c\r"],
      [/What moved\?[^\n]*\[pan\]/, "nothing\r"],
      [/What moved\?[^\n]*\[tilt\]/, "pan\r"],
      [/What moved\?[^\n]*\[dimmer\]/, "tilt\r"],
      [/What moved\?[^\n]*\[zoom\]/, "nothing\r"],
    ],
    /Nothing to write\./,
  );
  expect(run.output()).toContain("it stands at address 3, not 1. Correct that and verify it again.");
  expect(await run.ended).toBe(0);
}, 120_000);

test.each([
  { key: "S", typed: "s" },
  { key: "ESCAPE", typed: "\u001b" },
  { key: "Ctrl-C", typed: "\u0003" },
])("$key while it moves stops at once, without ENTER: dark, and the file as it was", async ({ typed }) => {
  const file = place.file("stopped.yaml", REAL.replace("profile: real", "profile: stopped"));
  const run = inTerminal([program(), "profile", "prove", file, "--output", "sim"]);
  await run.until("C and ENTER: all of this is confirmed");
  run.type("c\r");
  await run.until("Step 1 of 4,");
  run.type(typed);
  expect(await run.ended).toBe(4);
  expect(run.output()).not.toContain("Step 2 of 4,");
  expect(readFileSync(file, "utf8")).toContain("profile: stopped");
});

test.each([
  {
    args: ["spot-16bit"],
    says: "this profile comes with Limber and is not changed",
    because: "only a file of one's own is put right",
  },
  { args: ["./nowhere.yaml"], says: "there is no profile of this name", because: "there must be something to prove" },
])("$because: exit 2", ({ args, says }) => {
  const { code, err } = place.limber("profile", "prove", ...args, "--output", "sim");
  expect(err).toContain(says);
  expect(code).toBe(2);
});
