import {
  catchError,
  concatMap,
  defer,
  filter,
  finalize,
  groupBy,
  map,
  mergeMap,
  type Observable,
  of,
  retry,
  takeUntil,
  throwError,
  timer,
} from "rxjs";
import type { Deed, RackEffect } from "../batch/change.ts";
import { EVENT_VERSION, type RunEvent } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { WorldInput } from "../machine/input.ts";
import {
  type Clock,
  type DiagnosisDoor,
  type Journal,
  LineError,
  type Log,
  type RdmDoor,
  StrangerError,
  type Voice,
  type Watcher,
} from "../ports.ts";
import type { FrameSender, OpensSender } from "./frame-sender.ts";
import type { Signals } from "./signals.ts";

/** Everything of the world that a run needs. */
export interface Doors {
  readonly clock: Clock;
  /** What sends its frames, on lines that it opens. */
  readonly frames: OpensSender;
  readonly journal: Journal;
  readonly watcher: Watcher;
  readonly voice: Voice;
  readonly log: Log;
  readonly diagnosis: DiagnosisDoor;
  /** By universe: where fixtures are asked themselves while the run goes on; none where they are not to be. */
  readonly questions: ReadonlyMap<number, RdmDoor>;
  /** Only simulated fixtures have to be told what was done to them. */
  readonly byHand: (deed: Deed) => void;
  /** Inputs from outside the run: signals of the system. */
  readonly signals: Signals;
  /** Errors that nobody caught. */
  readonly mishaps: (listen: (error: unknown) => void) => () => void;
  /** Names the bench in the record. */
  readonly bench: string;
}

const REOPEN_EVERY_MS = 1000;

/** Opens each line, again and again after a loss; whatever has not answered when the run ends is no longer waited for. */
export const handleLines = (
  effects: Observable<RackEffect>,
  lines: Pick<FrameSender, "open">,
  log: Log,
  hear: (input: WorldInput) => void,
  answered: () => void,
): Observable<WorldInput> => {
  const ended = effects.pipe(filter(({ kind }) => kind === "end"));
  const lost = (universe: number, error: LineError): void => {
    log.note("line lost", { universe, code: error.code, message: error.message });
    hear(lostInput(universe, error));
  };
  // A line that does not come back must not keep the others waiting: each universe is handled by itself.
  return effects.pipe(
    filter((effect) => effect.kind === "open-line"),
    groupBy(({ universe }) => universe),
    mergeMap((ofOne) =>
      ofOne.pipe(
        concatMap(({ universe, patience, known }) =>
          defer(() => opened(lines, universe, known, (error) => lost(universe, error))).pipe(
            retry({ count: patience === "once" ? 0 : Number.POSITIVE_INFINITY, delay: againUnlessStrange }),
            mergeMap((identity) => of(...metInputs(universe, identity))),
            catchError((error: unknown) => of(notOpen(universe, error))),
            takeUntil(ended),
            finalize(answered),
          ),
        ),
      ),
    ),
  );
};

/** Has one diagnosis after the other worked out; one that nobody waits for any more is dropped. */
export const handleDiagnosis = (
  effects: Observable<RackEffect>,
  { diagnosis: door }: Pick<Doors, "diagnosis">,
  answered: () => void,
): Observable<WorldInput> => {
  const ended = effects.pipe(filter(({ kind }) => kind === "end"));
  return effects.pipe(
    filter((effect) => effect.kind === "diagnose"),
    concatMap(({ key, findings }) =>
      defer(() => door.ask(findings)).pipe(
        map((diagnosis): WorldInput => ({ kind: "diagnosed", answers: key, diagnosis })),
        takeUntil(ended),
        finalize(answered),
      ),
    ),
  );
};

/** Writes one event after the other, each told when it is on disk. */
export const handleWrites = (
  effects: Observable<RackEffect>,
  doors: RecordDoors,
  answered: () => void,
): Observable<WorldInput> =>
  effects.pipe(
    filter((effect) => effect.kind === "write"),
    concatMap((effect) =>
      defer(() => doors.journal.append(eventOf(effect, doors))).pipe(
        map((): WorldInput => ({ kind: "stored", run: effect.run, count: effect.count })),
        catchError((error: unknown) => of<WorldInput>({ kind: "journal-failed", words: wordsOf(error) })),
        finalize(answered),
      ),
    ),
  );

type RecordDoors = Pick<Doors, "journal" | "bench" | "clock">;

/** Opens a line and gives who was met there, where anything could be told. */
const opened = async (
  lines: Pick<FrameSender, "open">,
  universe: number,
  known: InterfaceIdentity | undefined,
  lost: (error: LineError) => void,
): Promise<InterfaceIdentity | undefined> => {
  let met: InterfaceIdentity | undefined;
  await lines.open(universe, lost, {
    known,
    met: (identity) => {
      met = identity;
    },
  });
  return met;
};

/** A stranger does not become the one before by being asked again: a person has to say. */
const againUnlessStrange = (error: unknown) =>
  error instanceof StrangerError ? throwError(() => error) : timer(REOPEN_EVERY_MS);

const metInputs = (universe: number, identity: InterfaceIdentity | undefined): readonly WorldInput[] => [
  ...(identity ? [{ kind: "interface-met", universe, identity } as const] : []),
  { kind: "line-open", universe },
];

const notOpen = (universe: number, error: unknown): WorldInput =>
  error instanceof StrangerError
    ? { kind: "stranger", universe, identity: error.identity, words: error.message }
    : lostInput(universe, error);

const lostInput = (universe: number, error: unknown): WorldInput => {
  if (error instanceof LineError) return { kind: "line-lost", universe, words: error.message };
  throw error;
};

const eventOf = (
  { run, body, person, count }: Extract<RackEffect, { kind: "write" }>,
  { bench, clock }: RecordDoors,
): RunEvent => ({
  id: `${run}-${String(count).padStart(5, "0")}`,
  v: EVENT_VERSION,
  bench,
  person,
  at: clock.date(),
  run,
  body,
});

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
