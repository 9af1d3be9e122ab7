import { identityKey } from "../../../src/domain/problem/identity.ts";
import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import { FUNCTIONS } from "../../../src/domain/trade/functions.ts";
import type { StepResult } from "../../../src/domain/trade/routines.ts";
import { readingProfiles } from "../../../src/run/events/digest.ts";
import type { EventBody, ReportedSymptom, RunEvent } from "../../../src/run/events/event.ts";
import { type RunSummary, summaryOf } from "../../../src/run/events/summary.ts";
import { type ReleaseStatus, type ReleaseStatuses, standingIn } from "../../../src/run/release/release-status.ts";

/** What came of one step: a sweep of that function. */
interface Swept {
  readonly of: FunctionId;
  readonly result: StepResult;
  readonly symptoms?: readonly ReportedSymptom[];
  readonly note?: string;
}

export interface Happened {
  readonly run: string;
  readonly serial?: string;
  readonly bench?: string;
  readonly person?: string;
  /** Of its first event; one minute passes from event to event. */
  readonly at?: string;
  readonly profile?: string;
  readonly simulated?: boolean;
  readonly replays?: string;
  readonly steps?: readonly Swept[];
  /** What else was written, after the steps. */
  readonly after?: readonly EventBody[];
  readonly ended?: "finished" | "stopped" | "open";
}

/** The events that such a run leaves in the journal. */
export const eventsOf = (happened: Happened): readonly RunEvent[] => {
  const { run, bench = "bench one", person = "KM", at = "2026-11-02T09:00:00.000Z", after = [] } = happened;
  const { ended = "finished", steps = [] } = happened;
  const bodies: readonly EventBody[] = [
    opening(happened),
    ...steps.flatMap(sweptBodies),
    ...after,
    ...(ended === "open" ? [] : [{ kind: "run-closed", how: ended } as const]),
  ];
  return bodies.map((body, minute) => ({
    id: `${run}-${minute}`,
    v: 1,
    bench,
    person,
    at: new Date(Date.parse(at) + minute * 60_000).toISOString(),
    run,
    body,
  }));
};

/** As the rules of release see a fixture of which this is everything. */
export const standingFrom = (serial: string, ...happened: readonly Happened[]): ReleaseStatus =>
  standingIn(happened.flatMap(eventsOf), serial, readingProfiles());

/** Where each of these fixtures stands. */
export const standingsFrom = (...happened: readonly Happened[]): ReleaseStatuses =>
  new Map(happened.map(({ serial = "A-17" }) => [identityKey(serial), standingFrom(serial, ...happened)]));

export const briefFrom = (happened: Happened): RunSummary => summaryOf(eventsOf(happened))!;

/** As little as a fixture can have. */
const PROFILE = `profile: spot
title: For tests
slots: 4
power_up_s: 20
lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }
functions:
  Pan: { slots: [1], from_deg: -270, to_deg: 270, full_travel_s: 2.6, lag_s: 0.3 }
  Iris: { slots: [2], from_pct: 100, to_pct: 5, full_travel_s: 0.4, rest_pct: 100 }
  Dimmer: { slots: [3], from_pct: 0, to_pct: 100, full_travel_s: 0.3 }
rest: { Dimmer: 0 }
`;

const opening = ({ serial = "A-17", profile = "spot", simulated = false, replays, steps = [] }: Happened) =>
  ({
    kind: "run-opened",
    fixture: { serial, universe: 1, address: 1 },
    profile: { name: profile, text: PROFILE },
    sequence: { name: "short", text: "" },
    bench: { name: "bench", text: "" },
    steps: steps.map(planned),
    output: "serial:/dev/ttyUSB0",
    simulated,
    set: [],
    mode: "attended",
    ...(replays === undefined ? {} : { replays }),
  }) satisfies EventBody;

const planned = ({ of }: Swept) => ({
  id: stepOf(of),
  routine: "sweep" as const,
  functions: [of],
  fitted: true,
  watch: `${FUNCTIONS[of].words} moves evenly`,
  frames: 40,
  lead_in: 0,
  start: [[of, 0] as [FunctionId, number]],
  moves: [[of, 0, 255, 0, 40] as [FunctionId, number, number, number, number]],
  beam: "shut" as const,
  notes: [],
  line: 1,
  fingerprint: `movement of ${of}`,
});

const stepOf = (of: FunctionId): string => `sweep ${of}`;

const sweptBodies = ({ of, result, symptoms = [], note = "" }: Swept): readonly EventBody[] => [
  { kind: "step-started", step: stepOf(of), attempt: 1, pace: 1 },
  judgedBody(of, result, symptoms, note),
];

export const judgedBody = (
  of: FunctionId,
  result: StepResult,
  symptoms: readonly ReportedSymptom[] = [],
  note = "",
): EventBody => ({
  kind: "step-judged",
  step: stepOf(of),
  attempt: 1,
  result,
  symptoms: [...symptoms],
  note,
  watched: "attended",
  lit_min: 5,
  attitude: "standing",
  on_watch_min: 3,
  rig: { worst_late_s: 0, dropped: 0, lost: false },
});

export const foundBody = (fault: "pan-belt-slack" | "iris-leaf-bent", note = ""): EventBody => ({
  kind: "found",
  what: "fault",
  fault,
  note,
});
