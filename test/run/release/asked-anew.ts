import { CLOSING } from "../../../src/domain/trade/hold-points.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import type { History } from "../../../src/run/release/history.ts";
import { DUE, STEPS, type StepName } from "./path.ts";

/** The question of the rules asked in another way, for the small fixture of these tests: plainly, from the end of a path backwards, without the rules. */
export const wrongWith = (path: History): readonly string[] => CHECKS.flatMap((check) => check(path));

type Check = (path: History) => readonly string[];
type Fits = (body: EventBody) => boolean;
const last = (path: History, fits: Fits, from = 0): number =>
  path.findLastIndex(({ body }, at) => at >= from && fits(body));
const mends =
  (...faults: readonly string[]): Fits =>
  (body) =>
    body.kind === "repaired" && body.what === "fault" && faults.includes(body.fault);
const when = (wrong: boolean, words: string): readonly string[] => (wrong ? [words] : []);

interface Said {
  readonly result: string;
  readonly at: number;
}

/** A judgement of a step that its run never had is of nothing. */
const plans = (path: History, run: string, name: string): boolean =>
  path.some((one) => one.run === run && one.body.kind === "run-opened" && one.body.steps.some(({ id }) => id === name));

/** What was said of a step, of which all runs here use the same movement; slow passes and what was taken back are nothing. */
const saidOf = (path: History, name: StepName): readonly Said[] => {
  const said: Said[] = [];
  let slow = false;
  for (const [at, { run, body }] of path.entries()) {
    if (!("step" in body) || body.step !== name || !plans(path, run, name)) continue;
    if (body.kind === "step-started") slow = body.pace < 1;
    if (body.kind === "step-judged")
      said.push({ result: slow && body.result === "pass" ? "slow pass" : body.result, at });
    if (body.kind === "step-corrected") said.pop();
  }
  return said.filter(({ result }) => ["pass", "fail", "unsure"].includes(result));
};

const steps: Check = (path) =>
  (Object.keys(STEPS) as StepName[]).flatMap((name) => {
    const said = saidOf(path, name).at(-1);
    const mended = name === "pan" ? last(path, mends("pan-belt-slack")) : -1;
    return [
      ...when(said?.result !== "pass", `${name} did not pass last`),
      ...when(said !== undefined && said.at < mended, `${name} was mended after it passed`),
    ];
  });

const answersTo = (path: History, id: string): readonly string[] =>
  path.flatMap(({ body }) => {
    if (body.kind === "inspected" && body.inspection === id && id !== "earth-continuity") return [body.answer];
    const read =
      body.kind === "reading-taken" &&
      body.reading === id &&
      (body.verdict === "outside" || (body.verdict === "within" && (body.value ?? 99) < 1));
    return read ? [body.verdict === "within" ? "good" : "bad"] : [];
  });
const looks: Check = (path) => DUE.flatMap((id) => when(answersTo(path, id).at(-1) !== "good", `${id} is not good`));

const CURES: Readonly<Record<string, readonly string[]>> = {
  capacitors: ["capacitor-bulged"],
  "yoke-wires": ["insulation-worn", "joint-scorched", "loom-tired"],
  "yoke-entry": ["insulation-worn"],
  "plug-and-cord": ["cord-damaged"],
  // Wet, or smells burnt.
  water: [
    "water-inside",
    "board-faulty",
    "driver-dead",
    "source-contacts",
    "joint-scorched",
    "power-link-loose",
    "capacitor-bulged",
    "screws-loose-base",
    "cord-damaged",
  ],
  brackets: ["brackets-loose"],
  "power-links": ["power-link-loose"],
  "driver-marks": ["driver-dead", "board-faulty"],
};

/** Bad at any time: repaired, or taken for none by another person (of these paths, JD), and good after that. */
const dangers: Check = (path) =>
  Object.entries(CURES).flatMap(([id, cures]) => {
    const says =
      (answer: string): Fits =>
      (body) =>
        body.kind === "inspected" && body.inspection === id && body.answer === answer;
    const bad = last(path, says("bad"));
    const cleared: Fits = (body) =>
      mends(...cures)(body) || (body.kind === "second-opinion" && body.about === id && body.initials === "JD");
    const done = last(path, cleared, bad + 1);
    const good = last(path, says("good"), done);
    return when(bad >= 0 && (done < 0 || good < 0), `${id} was bad and was not repaired and inspected again`);
  });

const failedTest: Check = (path) => {
  const test =
    (verdict: string): Fits =>
    (body) =>
      body.kind === "reading-taken" && body.reading === "electrical-safety" && body.verdict === verdict;
  const failed = last(path, test("outside"));
  const work = last(path, (body) => body.kind === "repaired" || body.kind === "second-opinion", failed + 1);
  return when(
    failed >= 0 && (work < 0 || last(path, test("within"), work) < 0),
    "the electrical test failed, and no repair and no good test came after it",
  );
};

/** What forbids power: dangers, and locks, brackets, cord, water or cable that were not good when last looked at. */
export const againstPowerAnew = (all: History): readonly string[] => {
  const path = withoutTakenBack(all);
  return [
    ...dangers(path),
    ...failedTest(path),
    ...brokenEarth(path),
    ...["transport-locks", "plug-and-cord", "water", "yoke-entry", "brackets"].flatMap((id) =>
      when(["bad", "unsure"].includes(answersTo(path, id).at(-1) ?? "good"), `${id} is not good`),
    ),
  ];
};

/** An answer that was taken back at once was never given, nor what takes it back: cut out pair by pair, until none is left. */
const withoutTakenBack = (all: History): History => {
  const at = all.findIndex(({ body }, n) => isPair(all[n - 1]?.body, body));
  return at < 0 ? all : withoutTakenBack(all.toSpliced(at - 1, 2));
};

const isPair = (said: EventBody | undefined, back: EventBody): boolean =>
  (said?.kind === "inspected" && back.kind === "inspection-corrected" && said.inspection === back.inspection) ||
  (said?.kind === "reading-taken" && back.kind === "reading-corrected" && said.reading === back.reading);

const brokenEarth: Check = (path) => {
  const earth =
    (verdict: string): Fits =>
    (body) =>
      body.kind === "reading-taken" && body.reading === "earth-continuity" && body.verdict === verdict;
  const bad = last(path, earth("outside"));
  const repaired = last(path, mends("earth-broken"), bad + 1);
  return when(bad >= 0 && (repaired < 0 || last(path, earth("within"), repaired) < 0), "the earth is broken");
};

const heldBack: Check = (path) => {
  const held = last(path, (body) => body.kind === "quarantined" && body.note !== "");
  return when(held >= 0 && last(path, (body) => body.kind === "hold-lifted", held) < 0, "it is held back");
};

/** Failed, and passed so seldom since that it needs a repair. */
const cures: Check = (path) =>
  (Object.keys(STEPS) as StepName[]).flatMap((name) => {
    const said = saidOf(path, name);
    const failed = said.findLastIndex(({ result }) => result === "fail");
    const passes = said.slice(failed + 1).filter(({ result }) => result === "pass").length;
    const repaired = last(path, (body) => body.kind === "repaired", said[failed]?.at ?? 0) >= 0;
    return when(failed >= 0 && passes < 3 && !repaired, `${name} failed and was not repaired`);
  });

/** A find right after the repair of it, with nothing wrong in between, only names what was done. */
const isNamedLate = (path: History, fault: string, at: number): boolean => {
  const repaired = path.slice(0, at).findLastIndex(({ body }) => mends(fault)(body));
  const between = path.slice(repaired + 1, at);
  const isWrong: Fits = (body) =>
    (body.kind === "inspected" && body.answer === "bad") ||
    (body.kind === "reading-taken" && body.verdict === "outside") ||
    (body.kind === "step-judged" && (body.result === "fail" || body.result === "unsure"));
  return repaired >= 0 && !between.some(({ body }) => isWrong(body));
};

const finds: Check = (path) =>
  path.flatMap(({ body }, at) =>
    body.kind === "found" && body.what === "fault"
      ? when(
          last(path, mends(body.fault), at) < 0 && !isNamedLate(path, body.fault, at),
          `${body.fault} was found and not mended`,
        )
      : [],
  );

const uncovered = (path: History) =>
  last(path, (body) => body.kind === "hold-confirmed" && body.point === "cover-removed");
const holds: Check = (path) =>
  CLOSING.flatMap((point) =>
    when(
      last(path, (body) => body.kind === "hold-confirmed" && body.point === point) < uncovered(path),
      `${point} is open`,
    ),
  );

const readings: Check = (path) => {
  const signedSince = (reading: string, from: number) =>
    last(
      path,
      (body) =>
        body.kind === "reading-taken" && body.reading === reading && body.verdict === "within" && body.initials !== "",
      from,
    ) >= 0;
  const work = Math.max(
    uncovered(path),
    last(path, (body) => body.kind === "repaired"),
  );
  const loom = last(path, mends("pan-belt-slack", "capacitor-bulged", "insulation-worn", "earth-broken"));
  return [
    ...when(!signedSince("electrical-safety", work + 1), "no safety test after the last work"),
    ...when(loom >= 0 && !signedSince("earth-continuity", loom + 1), "no earth reading after work on the loom"),
  ];
};

const runs: Check = (path) =>
  path.flatMap(({ body, run }) =>
    body.kind === "run-opened"
      ? when(!path.some((one) => one.run === run && one.body.kind === "run-closed"), `${run} is open`)
      : [],
  );

const CHECKS: readonly Check[] = [steps, cures, looks, dangers, failedTest, heldBack, finds, holds, readings, runs];
