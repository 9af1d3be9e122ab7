import { mechanismsOf } from "../../../src/diagnosis/model/places.ts";
import { CLOSING, type HoldPointId, OPENING } from "../../../src/domain/trade/hold-points.ts";
import { alwaysDue, type InspectionId, inspection } from "../../../src/domain/trade/inspections.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import type { FixtureEvent, History } from "../../../src/run/release/history.ts";

/** A small fixture: pan and iris. */
export const FITTED = [
  { function: "Pan", mechanism: "pan-drive" },
  { function: "Iris", mechanism: "iris" },
] as const;
export const DUE = alwaysDue(mechanismsOf(FITTED));
const COLD = DUE.filter((id) => inspection(id).cover === "outside");
export const INSIDE = DUE.filter((id) => !COLD.includes(id));
type Planned = Extract<EventBody, { kind: "step-added" }>["step"];
const planned = (id: string, routine: Planned["routine"], functions: Planned["functions"]): Planned => ({
  id,
  routine,
  functions,
  fitted: true,
  watch: "",
  frames: 40,
  lead_in: 0,
  start: [],
  moves: [],
  beam: "shut",
  notes: [],
  line: 1,
  fingerprint: `frames of ${id}`,
});
export const STEPS = {
  "power-up": planned("power-up", "power-up", []),
  pan: planned("pan", "sweep", ["Pan"]),
  iris: planned("iris", "sweep", ["Iris"]),
  "white-field": planned("white-field", "hold", ["Iris"]),
  soak: planned("soak", "soak", ["Pan"]),
};
export type StepName = keyof typeof STEPS;
const ALL = Object.keys(STEPS) as readonly StepName[];

export const told = (body: EventBody, run = "run-1"): FixtureEvent => ({ run, person: "KM", body });

export const opened = (
  steps: readonly StepName[] = ALL,
  more: { serial?: string; simulated?: boolean; replays?: string } = {},
): EventBody => ({
  kind: "run-opened",
  fixture: { serial: more.serial ?? "A-17", universe: 1, address: 1 },
  profile: { name: "small", text: "" },
  sequence: { name: "check-in", text: "" },
  bench: { name: "bench", text: "" },
  steps: steps.map((name) => STEPS[name]),
  output: "serial:/dev/ttyUSB0",
  simulated: more.simulated ?? false,
  set: [],
  mode: "attended",
  ...(more.replays === undefined ? {} : { replays: more.replays }),
});

export const started = (step: StepName, pace = 1): EventBody => ({ kind: "step-started", step, attempt: 1, pace });
export const judged = (
  step: StepName,
  result: "pass" | "fail" | "unsure" | "not-watched",
  note = "",
): Extract<EventBody, { kind: "step-judged" }> => ({
  kind: "step-judged",
  step,
  attempt: 1,
  result,
  symptoms: [],
  note,
  watched: result === "not-watched" ? "no" : "attended",
  lit_min: 0,
  attitude: "standing",
  on_watch_min: 0,
  rig: { worst_late_s: 0, dropped: 0, lost: false },
});
export const hold = (point: HoldPointId | "mains-on"): EventBody => ({ kind: "hold-confirmed", point });
export const look = (id: InspectionId, answer: "good" | "bad" | "unsure" | "not-asked" = "good"): EventBody => ({
  kind: "inspected",
  inspection: id,
  answer,
  note: "",
});
export const measured = (
  reading: "earth-continuity" | "electrical-safety",
  verdict: "within" | "outside" | "not-taken" = "within",
  initials = "EE",
  value = reading === "earth-continuity" ? 0.08 : undefined,
): EventBody => ({
  kind: "reading-taken",
  reading,
  ...(value === undefined ? {} : { value }),
  unit: "ohm",
  verdict,
  initials,
  note: "",
});
export const mended = (fault: Extract<EventBody, { kind: "repaired"; what: "fault" }>["fault"]): EventBody => ({
  kind: "repaired",
  what: "fault",
  fault,
  part: "",
  minutes: 10,
  initials: "KM",
  note: "",
});
export const foundFault = (fault: Extract<EventBody, { kind: "found"; what: "fault" }>["fault"]): EventBody => ({
  kind: "found",
  what: "fault",
  fault,
  note: "",
});
export const closed: EventBody = { kind: "run-closed", how: "finished" };
export const signed: Extract<EventBody, { kind: "signed-off" }> = { kind: "signed-off", initials: "KM", note: "" };

/** A check in which everything is in order: cold, swept, opened, looked at, closed, measured. */
export const checkIn = (run = "run-1", steps: readonly StepName[] = ALL): readonly FixtureEvent[] =>
  [
    opened(steps),
    ...COLD.map((id) => look(id)),
    hold("mains-on"),
    ...steps.flatMap((step) => [started(step), judged(step, "pass")]),
    ...OPENING.map(hold),
    ...INSIDE.map((id) => (id === "earth-continuity" ? measured(id) : look(id))),
    ...CLOSING.map(hold),
    measured("electrical-safety"),
    closed,
  ].map((body) => told(body, run));

/** A check in which a step failed, then work while the covers were off, then a replay. */
export const workedOn = (
  failing: StepName | undefined,
  work: readonly EventBody[],
  again: readonly StepName[],
): readonly FixtureEvent[] => {
  const bodies = checkIn().map(({ body }) =>
    body.kind === "step-judged" && body.step === failing ? judged(failing, "fail") : body,
  );
  const closing = bodies.findIndex((body) => body.kind === "hold-confirmed" && body.point === CLOSING[0]);
  const replay = [
    opened(again, { replays: "run-1" }),
    ...again.flatMap((step) => [started(step), judged(step, "pass")]),
    closed,
  ];
  return [
    ...[...bodies.slice(0, closing), ...work, ...bodies.slice(closing)].map((body) => told(body)),
    ...replay.map((body) => told(body, "run-2")),
  ];
};

/** The pan failed, its belt was found slack and set, the earth measured after it, and all that was disturbed passed again. */
export const mendedCheckIn = (): readonly FixtureEvent[] =>
  workedOn(
    "pan",
    [foundFault("pan-belt-slack"), mended("pan-belt-slack"), measured("earth-continuity")],
    ["power-up", "pan", "soak"],
  );

export const bodiesOf = (history: History): readonly EventBody[] => history.map(({ body }) => body);
