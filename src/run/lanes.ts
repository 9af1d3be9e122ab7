import {
  catchError,
  concatMap,
  defer,
  filter,
  finalize,
  map,
  type Observable,
  of,
  retry,
  takeUntil,
  timer,
} from "rxjs";
import { LineError } from "../ports.ts";
import { EVENT_VERSION, type RunEvent } from "../record/event.ts";
import type { Input } from "../session/input.ts";
import type { Wish } from "../session/wish.ts";
import type { Doors } from "./doors.ts";

const REOPEN_EVERY_MS = 1000;

/** Opens the line, again and again after a loss; whatever has not answered when the run ends is no longer waited for. */
export const lineLane = (
  wishes: Observable<Wish>,
  { line, log }: Doors,
  hear: (input: Input) => void,
  answered: () => void,
): Observable<Input> => {
  const ended = wishes.pipe(filter(({ kind }) => kind === "end"));
  const lost = (error: LineError): void => {
    log.note("line lost", { code: error.code, message: error.message });
    hear(lostInput(error));
  };
  return wishes.pipe(
    filter((wish) => wish.kind === "open-line"),
    concatMap(({ patience }) =>
      defer(() => line.open(lost)).pipe(
        retry({ count: patience === "once" ? 0 : Number.POSITIVE_INFINITY, delay: () => timer(REOPEN_EVERY_MS) }),
        map((): Input => ({ kind: "line-open" })),
        catchError((error: unknown) => of(lostInput(error))),
        takeUntil(ended),
        finalize(answered),
      ),
    ),
  );
};

/** Writes one event after the other, each told when it is on disk. */
export const journalLane = (wishes: Observable<Wish>, doors: Doors, answered: () => void): Observable<Input> =>
  wishes.pipe(
    filter((wish) => wish.kind === "write"),
    concatMap((wish) =>
      defer(() => doors.journal.append(eventOf(wish, doors))).pipe(
        map((): Input => ({ kind: "stored", count: wish.count })),
        catchError((error: unknown) => of<Input>({ kind: "journal-failed", words: wordsOf(error) })),
        finalize(answered),
      ),
    ),
  );

const lostInput = (error: unknown): Input => {
  if (error instanceof LineError) return { kind: "line-lost", words: error.message };
  throw error;
};

const eventOf = (
  { body, person, count }: Extract<Wish, { kind: "write" }>,
  { run, bench, clock }: Doors,
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
