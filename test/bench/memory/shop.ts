import { jobFor } from "../../../src/app/fixture/job.ts";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { FAULTS, type KnownFault } from "../../../src/diagnosis/model/knowledge/faults.ts";
import { marginals } from "../../../src/diagnosis/model/layers.ts";
import { networkFor } from "../../../src/diagnosis/model/network.ts";
import { type SymptomId, symptomsOf } from "../../../src/domain/trade/symptoms.ts";
import { type BodyOf, EVENT_VERSION, type EventBody, type RunEvent } from "../../../src/run/events/event.ts";
import { must, shippedBench, shippedProfile, shippedSequence, shippedText } from "../../kit/shipped.ts";

const FIXTURES = 200;
/** One check in so many finds a fault. */
const FOUND_EVERY = 3;
const PROFILE = shippedProfile("spot-16bit");
const FITTED = fittedOf(PROFILE);
/** Those of parts that this fixture has, and that show at a function of their own. */
const FINDABLE = FAULTS.filter(
  (fault) => FITTED.some(({ mechanism }) => mechanism === fault.mechanism) && ownSymptom(fault),
);

/** The runs of a busy shop until it has kept at least so many step results: quick checks of the shipped spot, oldest first. */
export function* shopRuns(results: number): Generator<readonly RunEvent[]> {
  const opening = openingBody();
  for (let n = 0; n * opening.steps.length < results; n++) yield runEvents(n, opening);
}

const openingBody = (): BodyOf<"run-opened"> =>
  must(
    jobFor(
      {
        profile: { value: PROFILE, text: shippedText("profiles/spot-16bit.yaml") },
        sequence: { value: shippedSequence("quick"), text: shippedText("sequences/quick.yaml") },
        bench: { value: shippedBench(), text: shippedText("benches/bench.yaml") },
      },
      {
        serial: "",
        universe: 1,
        address: 1,
        output: "serial:/dev/ttyUSB0",
        simulated: false,
        set: [],
        mode: "attended",
        replays: undefined,
        hire: undefined,
      },
    ),
  ).opening;

/** Ten minutes after one another; the step results of one run are five seconds apart. */
const runEvents = (n: number, opening: BodyOf<"run-opened">): readonly RunEvent[] => {
  const fault = n % FOUND_EVERY === 0 ? FINDABLE[(n / FOUND_EVERY) % FINDABLE.length] : undefined;
  const bodies: readonly EventBody[] = [
    { ...opening, fixture: { ...opening.fixture, serial: serialOf(n) } },
    ...opening.steps.flatMap((step) => stepBodies(step, fault)),
    ...(fault ? [{ kind: "found", what: "fault", fault: fault.id, note: "" } as const] : []),
    { kind: "run-closed", how: "finished" },
  ];
  const run = `run-${String(n).padStart(5, "0")}`;
  const start = Date.parse("2026-01-05T08:00:00.000Z") + n * 600_000;
  return bodies.map((body, k) => ({
    id: `${run}-${k}`,
    v: EVENT_VERSION,
    bench: "bench",
    person: "KM",
    at: new Date(start + k * 5000).toISOString(),
    run,
    body,
  }));
};

/** 7 and the number of fixtures have no common divisor, so all of them take their turns. */
export const serialOf = (n: number): string => `F-${(n * 7) % FIXTURES}`;

const stepBodies = (
  step: BodyOf<"run-opened">["steps"][number],
  fault: KnownFault | undefined,
): readonly EventBody[] => {
  if (!step.fitted) return [judged(step.id, "not-fitted", [])];
  const ref = { step: step.id, attempt: 1 };
  const shown = FITTED.find((one) => step.functions.includes(one.function) && one.mechanism === fault?.mechanism);
  const symptom = shown && fault && ownSymptom(fault);
  return [
    { kind: "step-started", ...ref, pace: 1 },
    ...(symptom ? [10, 30].map((frame) => ({ kind: "pressed", ...ref, frame, after_s: frame / 40 }) as const) : []),
    judged(step.id, symptom ? "fail" : "pass", symptom ? [{ symptom, function: shown.function }] : []),
  ];
};

function ownSymptom({ id, mechanism }: KnownFault): SymptomId | undefined {
  const fault = networkFor(FITTED).faults.find((one) => one.id === id);
  const links = fault && marginals(fault);
  return symptomsOf(mechanism).find((symptom) => (links?.get(`${mechanism}/${symptom}`) ?? 0) > 0.1);
}

const judged = (
  step: string,
  result: "pass" | "fail" | "not-fitted",
  symptoms: BodyOf<"step-judged">["symptoms"],
): EventBody => ({
  kind: "step-judged",
  step,
  attempt: 1,
  result,
  symptoms,
  note: "",
  watched: "attended",
  lit_min: 5,
  attitude: "standing",
  on_watch_min: 5,
  rig: { worst_late_s: 0, dropped: 0, lost: false },
});
