import { type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { grouped } from "../../domain/keys.ts";
import type { ReportedSymptom } from "../events/event.ts";
import { minutesBetween, type RunSummary } from "../events/summary.ts";

/** The same fault found, or the same symptom seen, in a later job of one fixture. */
export type Return = Trouble & {
  readonly first: string;
  readonly again: string;
  /** From the end of the first run to the start of the other. */
  readonly hours: number;
};

type Trouble = { readonly kind: "fault"; readonly fault: FaultId } | ({ readonly kind: "symptom" } & ReportedSymptom);

/**
 * What came again on one fixture: the same fault found, or the same symptom seen, in a later job. `runs` are given oldest
 * first, and each time is counted from the time before.
 */
export const returnsIn = (runs: readonly RunSummary[]): readonly Return[] => {
  const jobOf = jobsIn(runs);
  const last = new Map<string, RunSummary>();
  return runs.flatMap((run) =>
    seenIn(run).flatMap(([key, what]) => {
      const before = last.get(key);
      last.set(key, run);
      return before && jobOf(before.run) !== jobOf(run.run)
        ? [{ ...what, first: before.run, again: run.run, hours: hoursBetween(before, run) }]
        : [];
    }),
  );
};

/** Everything once, however many steps showed it. */
const seenIn = ({ steps, finds }: RunSummary): readonly (readonly [string, Trouble])[] => [
  ...new Map<string, Trouble>([
    ...finds.flatMap((find) =>
      find.what === "fault" ? [[find.fault, { kind: "fault", fault: find.fault }] as const] : [],
    ),
    ...steps
      .flatMap(({ symptoms }) => symptoms)
      .map((symptom) => [keyOf(symptom), { kind: "symptom", ...symptom }] as const),
  ]),
];

/**
 * Tells of each run to which first run it goes back over its replays: a check-in with the
 * replays after its repairs is one job.
 */
const jobsIn = (runs: readonly RunSummary[]): ((run: string) => string) => {
  const replayed = new Map(runs.map(({ run, replays }) => [run, replays]));
  const root = (run: string, seen: ReadonlySet<string>): string => {
    const before = replayed.get(run);
    return before === undefined || seen.has(before) ? run : root(before, new Set([...seen, before]));
  };
  return (run) => root(run, new Set([run]));
};

/** The real runs, or all simulated ones where there is no real run: what a simulation says counts for no real fixture. */
export const realFirst = (runs: readonly RunSummary[]): readonly RunSummary[] => {
  const real = runs.filter(({ simulated }) => !simulated);
  return real.length > 0 ? real : runs;
};

/**
 * Hours from the latest event of the one run to the start of the other; what was written down late makes it 0, never less.
 */
export const hoursBetween = (before: RunSummary, after: RunSummary): number =>
  Math.max(0, minutesBetween(before.until, after.at) / 60);

/** A symptom and the runs in which it was seen, oldest first. */
export interface SymptomPast extends ReportedSymptom {
  readonly runs: readonly string[];
}

/** How often each symptom was seen, the commonest first; of equals the one that was seen first. */
export const symptomsIn = (runs: readonly RunSummary[]): readonly SymptomPast[] => {
  const seen = runs.flatMap(({ run, steps }) =>
    steps.flatMap(({ symptoms }) => symptoms).map((symptom) => ({ symptom, run })),
  );
  return grouped(seen, ({ symptom }) => keyOf(symptom))
    .map((sightings) => ({ ...sightings[0].symptom, runs: [...new Set(sightings.map(({ run }) => run))] }))
    .sort((a, b) => b.runs.length - a.runs.length);
};

/** One text for a symptom of a function: "Pan/slow"; "fixture/smells-burnt" for the fixture as a whole. */
const keyOf = ({ symptom, function: id }: ReportedSymptom): string => `${id ?? "fixture"}/${symptom}`;

/** A fault that was found, and the part that its repair takes, by what is known of the fault. */
export interface PartPast {
  readonly fault: FaultId;
  readonly part: string;
  readonly run: string;
  readonly at: string;
}

/** One entry for each fault found, the oldest first. */
export const partsIn = (runs: readonly RunSummary[]): readonly PartPast[] =>
  runs.flatMap(({ run, finds }) =>
    finds.flatMap((find) =>
      find.what === "fault" ? [{ fault: find.fault, part: knownFault(find.fault).part, run, at: find.at }] : [],
    ),
  );
