import { identityKey, isSameName } from "../../domain/problem/identity.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId, StepResult } from "../../domain/trade/routines.ts";
import type { BodyOf, EventBody, ReportedSymptom, RunEvent } from "./event.ts";
import type { FixtureSaid } from "./fixture-said.ts";
import { allPresses, resultOf, unaskedPresses } from "./step-results.ts";
import { type Decision, type StepView, viewOf } from "./view.ts";

/** A run in brief: what history and stock need of it, without its texts and movements. */
export interface RunSummary {
  readonly run: string;
  readonly bench: string;
  /** Who opened it. */
  readonly person: string;
  /** When its first event was written; ISO 8601, UTC. */
  readonly at: string;
  /** When its latest event was written, also one about work by hand. */
  readonly until: string;
  /** At work on it, breaks left out. */
  readonly minutes: number;
  readonly serial: string;
  readonly universe: number;
  readonly address: number;
  readonly profile: string;
  readonly sequence: string;
  readonly simulated: boolean;
  /** The run whose movements this one plays again. */
  readonly replays: string | undefined;
  readonly steps: readonly SummaryStep[];
  readonly looks: readonly Signed<BodyOf<"inspected">>[];
  readonly finds: readonly Signed<BodyOf<"found">>[];
  readonly repairs: readonly Signed<BodyOf<"repaired">>[];
  readonly readings: readonly Signed<BodyOf<"reading-taken">>[];
  readonly cleanings: readonly Signed<BodyOf<"cleaned">>[];
  readonly photos: readonly Signed<BodyOf<"photo-taken">>[];
  /** Signed back, held back, lifted, second opinions, another kind. */
  readonly decisions: readonly Signed<Decision>[];
  readonly ended: BodyOf<"run-closed">["how"] | "open";
  /** What the fixture counted, as it said in this run, the latest; undefined where it was not asked. */
  readonly counters: FixtureSaid["counters"] | undefined;
  /** What the fixture came back from; empty when nobody said. */
  readonly hire: string;
  readonly aside: BodyOf<"set-aside"> | undefined;
}

/** A step as it stands after all corrections. */
export interface SummaryStep {
  readonly id: string;
  readonly routine: RoutineId;
  readonly functions: readonly FunctionId[];
  readonly attempt: number;
  readonly presses: number;
  readonly result: StepResult;
  readonly symptoms: readonly ReportedSymptom[];
  readonly note: string;
  readonly watched: BodyOf<"step-judged">["watched"];
}

/** What a person said, with who and when. */
type Signed<Body extends EventBody> = Body & { readonly at: string; readonly person: string };

/** The row for one run, from all its events in the order of writing; undefined for a run that never began. */
export const summaryOf = (events: readonly RunEvent[]): RunSummary | undefined => {
  const view = viewOf(events.map(({ body }) => body));
  const { opened } = view;
  const [first] = events;
  if (!opened || !first) return undefined;
  const signed = signedIn(events);
  return {
    run: first.run,
    bench: first.bench,
    person: first.person,
    at: first.at,
    until: events.at(-1)?.at ?? first.at,
    minutes: minutesOf(events.map(({ at }) => at)),
    ...opened.fixture,
    profile: opened.profile.name,
    sequence: opened.sequence.name,
    simulated: opened.simulated,
    replays: opened.replays,
    steps: view.steps.map(briefStep),
    looks: view.inspected.map(signed),
    finds: view.found.map(signed),
    repairs: view.repaired.map(signed),
    readings: view.readings.map(signed),
    cleanings: view.cleaned.map(signed),
    photos: view.photos.map(signed),
    decisions: view.decisions.map(signed),
    ended: view.closed ?? "open",
    counters: view.said.at(-1)?.counters,
    hire: opened.hire ?? "",
    aside: view.aside,
  };
};

const briefStep = (step: StepView): SummaryStep => ({
  id: step.id,
  routine: step.routine,
  functions: step.functions,
  attempt: step.attempt,
  presses: step.judged ? step.presses.length : allPresses(step),
  result: resultOf(step),
  symptoms: step.judged?.symptoms ?? [],
  note: step.judged?.note ?? "",
  watched: step.judged?.watched ?? (unaskedPresses(step) > 0 ? "attended" : "no"),
});

/** Each body is looked up by itself, so that what the view leaves out is left out here as well. */
const signedIn = (events: readonly RunEvent[]) => {
  const envelopes = new Map<EventBody, RunEvent>(events.map((event) => [event.body, event]));
  return <Body extends EventBody>(body: Body): Signed<Body> => {
    const { at = "", person = "" } = envelopes.get(body) ?? {};
    return { ...body, at, person };
  };
};

/** Whether everything that fits was judged a pass, to the end. */
export const passedWhole = ({ ended, steps }: RunSummary): boolean =>
  ended === "finished" && steps.every(({ result }) => result === "pass" || result === "not-fitted");

/** Longer without an event is a break: nobody is at work on the fixture. Judgement: inspections take minutes each. */
const BREAK_MINUTES = 15;

/** Minutes of work between events at these times (ISO 8601, in order of writing), breaks left out. */
export const minutesOf = (times: readonly string[]): number =>
  times.slice(1).reduce((sum, at, index) => sum + withoutBreak(minutesBetween(times[index] ?? at, at)), 0);

const withoutBreak = (minutes: number): number => (minutes > 0 && minutes <= BREAK_MINUTES ? minutes : 0);

/** Minutes from one time to another, both ISO 8601; below 0 where `to` is the earlier one. */
export const minutesBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 60_000;

/** Which runs are asked for. */
export type Which =
  | { readonly kind: "all" }
  | { readonly kind: "fixture"; readonly serial: string }
  /** Those whose name begins like this. */
  | { readonly kind: "named"; readonly beginning: string }
  /** How many of the latest runs in which somebody pressed who had given initials. */
  | { readonly kind: "pressed"; readonly latest: number };

/** The runs that are asked about, in the order in which they were begun. */
export const askedOf = (runs: readonly RunSummary[], which: Which): readonly RunSummary[] => {
  switch (which.kind) {
    case "all":
      return runs;
    case "fixture":
      return runs.filter(({ serial }) => isSameName(serial, which.serial));
    case "named":
      return runs.filter(({ run }) => run.startsWith(which.beginning));
    case "pressed":
      return which.latest === 0 ? [] : runs.filter(wasPressed).slice(-which.latest);
    default:
      return which satisfies never;
  }
};

/** Whether somebody whose initials are known pressed in this run. */
export const wasPressed = ({ person, steps }: RunSummary): boolean =>
  person !== "" && steps.some(({ presses }) => presses > 0);

/** Given to the simulated fixture of a practice round, which is no fixture of the shop's. */
export const PRACTICE_SERIAL = "practice";

/** What stands for the serial number of a fixture when nobody gave one: runs of different fixtures may bear it. */
const NO_SERIAL: readonly string[] = ["", "unknown", PRACTICE_SERIAL];

/** Whether a serial number is none: nobody gave one, or it is that of practice. */
export const isNameless = (serial: string): boolean => NO_SERIAL.includes(identityKey(serial));
