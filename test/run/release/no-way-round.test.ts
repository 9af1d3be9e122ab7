import fc from "fast-check";
import { expect, test } from "vitest";
import { CLOSING, OPENING } from "../../../src/domain/trade/hold-points.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import type { FixtureEvent, History } from "../../../src/run/release/history.ts";
import { releaseStatusOf } from "../../../src/run/release/release-status.ts";
import { wrongWith } from "./asked-anew.ts";
import {
  checkIn,
  closed,
  DUE,
  FITTED,
  foundFault,
  hold,
  judged,
  look,
  measured,
  mended,
  mendedCheckIn,
  opened,
  STEPS,
  type StepName,
  signed,
  started,
  told,
  workedOn,
} from "./path.ts";

const NAMES = Object.keys(STEPS) as readonly StepName[];
const FAULTS = [
  "pan-belt-slack",
  "iris-leaf-bent",
  "capacitor-bulged",
  "insulation-worn",
  "earth-broken",
  "cord-damaged",
  "water-inside",
] as const;

const anyStep = fc.constantFrom(...NAMES);
const anyFault = fc.constantFrom(...FAULTS);
const anyBody: fc.Arbitrary<EventBody> = fc.oneof(
  fc
    .tuple(anyStep, fc.constantFrom("pass", "fail", "unsure", "not-watched"))
    .map(([step, result]) => judged(step, result)),
  fc.tuple(anyStep, fc.constantFrom(1, 0.5)).map(([step, pace]) => started(step, pace)),
  anyStep.map((step) => ({ kind: "step-corrected", step, attempt: 1 }) as const),
  fc
    .tuple(fc.constantFrom(...DUE), fc.constantFrom("good", "bad", "unsure", "not-asked"))
    .map(([id, answer]) => look(id, answer)),
  fc.constantFrom(...OPENING, ...CLOSING, "mains-on" as const).map(hold),
  fc
    .tuple(
      fc.constantFrom("earth-continuity", "electrical-safety"),
      fc.constantFrom("within", "outside", "not-taken"),
      fc.constantFrom("EE", ""),
      fc.constantFrom(undefined, 0.08, 5000),
    )
    .map((one) => measured(...one)),
  fc
    .tuple(fc.constantFrom("plug-and-cord", "capacitors", "electrical-safety"), fc.constantFrom("KM", "JD"))
    .map(([about, initials]) => ({ kind: "second-opinion", about, initials, note: "only paint" }) as const),
  fc.constantFrom(...DUE).map((inspection) => ({ kind: "inspection-corrected", inspection }) as const),
  anyFault.map(mended),
  anyFault.map(foundFault),
  fc.constantFrom<EventBody>(signed, closed, opened(["iris"]), {
    kind: "quarantined",
    reasons: [],
    initials: "KM",
    note: "parts",
  }),
  fc.constant({ kind: "hold-lifted", initials: "KM", note: "parts are in" } as const),
);

type Change = (history: readonly FixtureEvent[]) => readonly FixtureEvent[];
const place = fc.nat({ max: 9999 }).map((share) => share / 10_000);
const at = (history: readonly unknown[], share: number): number => Math.floor(share * history.length);
const put: fc.Arbitrary<Change> = fc.tuple(place, anyBody, fc.constantFrom("run-1", "run-2", "run-3")).map(
  ([share, body, run]) =>
    (history) =>
      history.toSpliced(at(history, share), 0, told(body, run)),
);
const drop: fc.Arbitrary<Change> = place.map((share) => (history) => history.toSpliced(at(history, share), 1));
/** Kinds of which a path has few are left out as often as others. */
const forget: fc.Arbitrary<Change> = fc
  .tuple(place, fc.constantFrom("repaired", "reading-taken", "step-judged", "hold-confirmed", "inspected"))
  .map(([share, kind]) => (history) => {
    const these = history.flatMap(({ body }, index) => (body.kind === kind ? [index] : []));
    return history.toSpliced(these[at(these, share)] ?? history.length, 1);
  });
const move: fc.Arbitrary<Change> = fc.tuple(place, place).map(([from, to]) => (history) => {
  const one = history[at(history, from)];
  return one ? history.toSpliced(at(history, from), 1).toSpliced(at(history, to), 0, one) : history;
});
const sign: fc.Arbitrary<Change> = fc.constant((history) => [...history, told(signed)]);

const playedAgain = (run: string, step: StepName): readonly FixtureEvent[] =>
  [opened([step], { replays: "run-1" }), started(step), judged(step, "pass"), closed].map((body) => told(body, run));
const belt = mended("pan-belt-slack");
const earth = measured("earth-continuity");
const GOOD: readonly (readonly FixtureEvent[])[] = [
  checkIn(),
  mendedCheckIn(),
  [...workedOn("iris", [], ["iris"]), ...playedAgain("run-4", "iris"), ...playedAgain("run-5", "iris")],
  workedOn(undefined, [look("plug-and-cord", "bad"), mended("cord-damaged"), look("plug-and-cord"), earth], NAMES),
  workedOn(undefined, [belt, earth], ["power-up", "pan", "soak"]),
  workedOn(undefined, [look("capacitors", "bad"), mended("capacitor-bulged"), look("capacitors"), earth], NAMES),
  workedOn(
    undefined,
    [look("yoke-wires", "bad"), mended("insulation-worn"), look("yoke-wires"), earth],
    ["pan", "soak"],
  ),
  [...checkIn(), told(signed), ...checkIn("run-3")],
];

/** Paths near a good one, where a way round would lie, changed in a few places and signed. */
const anyPath = fc
  .tuple(fc.constantFrom(...GOOD), fc.array(fc.oneof(put, drop, forget, move, sign), { maxLength: 4 }))
  .map(([good, changes]) => [
    ...changes.reduce<readonly FixtureEvent[]>((history, change) => change(history), good),
    told(signed),
  ]);

/** What was written since the last signature that counted. */
const sinceSigned = (path: History): History => {
  const before = path.slice(0, -1);
  const counted = before.findLastIndex(
    ({ body }, at) => body.kind === "signed-off" && releaseStatusOf(before.slice(0, at + 1), FITTED).state === "ready",
  );
  return before.slice(counted + 1).filter(({ body }) => body.kind !== "signed-off");
};

test("no path of events reaches ready around the rules", () => {
  let ready = 0;
  fc.assert(
    fc.property(anyPath, (path) => {
      if (releaseStatusOf(path, FITTED).state !== "ready") return;
      const since = sinceSigned(path);
      if (since.length === 0) return;
      ready++;
      expect(wrongWith(since)).toEqual([]);
    }),
    { numRuns: 1000 },
  );
  expect(ready).toBeGreaterThan(100);
});

test("ready is only ever a signature, and never without initials", () => {
  fc.assert(
    fc.property(anyPath, (path) => {
      const { state, reasons, signed: by } = releaseStatusOf(path, FITTED);
      expect(state === "ready").toBe(by !== undefined && by !== "");
      if (state === "ready" || state === "to-sign") expect(reasons).toEqual([]);
      else expect(reasons).not.toEqual([]);
    }),
  );
});
