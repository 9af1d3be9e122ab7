import {
  catchError,
  concatMap,
  defer,
  EMPTY,
  filter,
  finalize,
  map,
  type Observable,
  observeOn,
  of,
  queueScheduler,
  retry,
  Subject,
  scan,
  takeUntil,
  tap,
  timer,
} from "rxjs";
import { type Clock, type Journal, LineError, type Log, type Tick, type Voice, type Watcher } from "../ports.ts";
import { EVENT_VERSION, type RunEvent } from "../record/event.ts";
import type { Change } from "../session/change.ts";
import type { Input, Stamped } from "../session/input.ts";
import type { Session } from "../session/session.ts";
import { step } from "../session/step.ts";
import type { Wish } from "../session/wish.ts";
import type { Frame } from "../units.ts";
import { Player } from "./player.ts";

/** The line as the shell sees it: the fixture's universe, opened and reopened as one. */
export interface OpenedLine {
  open(lost: (error: LineError) => void): Promise<void>;
  send(levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

export interface Doors {
  readonly clock: Clock;
  readonly line: OpenedLine;
  readonly journal: Journal;
  readonly watcher: Watcher;
  readonly voice: Voice;
  readonly log: Log;
  /** Only the simulated fixture has to be told that its mains went on. */
  readonly mainsOn: () => void;
  /** Inputs from outside the run: signals of the system. */
  readonly signals: (listen: (name: string) => void) => () => void;
  /** Errors that nobody caught. */
  readonly mishaps: (listen: (error: unknown) => void) => () => void;
  /** Names the bench in the record. */
  readonly bench: string;
  readonly run: string;
}

const REOPEN_EVERY_MS = 1000;
/** After the last wish the rest state goes out for so many frames, so that one of them arrives. */
const REST_FRAMES = 8;

/** A run: joins clock, keys and DMX line into inputs, and carries out what the session wishes. Resolves when the run is over and every door is shut. */
export class Shell {
  private readonly inputs = new Subject<Stamped>();
  private readonly wishes = new Subject<Wish>();
  private readonly doors: Doors;
  private readonly player: Player;
  private session: Session;
  private outstanding = 0;
  private lastTickAt = 0;
  private restLeft = Number.POSITIVE_INFINITY;
  private mistake: { readonly error: unknown } | undefined;

  constructor(session: Session, doors: Doors) {
    this.session = session;
    this.doors = doors;
    const { profile } = session.job.timeline;
    const { address } = session.job.opening.fixture;
    this.player = new Player(
      profile,
      address,
      (levels) => doors.line.send(levels),
      (answers, rig) => this.hear({ kind: "played", answers, rig }),
    );
  }

  /** True while a door has not answered: a clock in no time must wait. */
  readonly busy = (): boolean => this.outstanding > 0;

  /** The frame of the step that is out just now: for a screen that draws the movement. */
  readonly frame = (): Frame => this.player.standing(0).frame;

  run(): Promise<Session> {
    return new Promise((resolve, reject) => {
      const { clock, watcher, signals, mishaps } = this.doors;
      const deaf = [signals((name) => this.hear({ kind: "signal", name })), mishaps((error) => this.goDark(error))];
      const stopClock = clock.start((tick) => {
        this.beat(tick);
        if (--this.restLeft > 0 || (this.busy() && !this.mistake)) return;
        stopClock();
        for (const stop of deaf) stop();
        watcher.close();
        const { mistake } = this;
        this.doors.line.close().then(() => (mistake ? reject(mistake.error) : resolve(this.session)), reject);
      });
      this.join();
      watcher.listen((input) => this.hear(input));
      this.hear({ kind: "begin" });
    });
  }

  private beat(tick: Tick): void {
    this.lastTickAt = this.doors.clock.now();
    try {
      this.player.tick(tick);
    } catch (error) {
      this.goDark(error);
    }
  }

  /** We are wrong: nothing we know can be trusted any more, so the rest state goes out and the run is over. */
  private goDark(error: unknown): void {
    if (this.mistake) return;
    this.mistake = { error };
    this.restLeft = REST_FRAMES;
    this.player.rest();
    this.doors.log.note("bug", { error: String(error), stack: error instanceof Error ? error.stack : undefined });
  }

  /** Errors in what is shown or carried must reach this pipe's end, so both happen inside it and not in a subscriber. */
  private join(): void {
    const dark = (error: unknown) => this.goDark(error);
    for (const lane of [this.instantLane(), this.lineLane(), this.journalLane()])
      lane.pipe(tap((input) => this.hear(input))).subscribe({ error: dark });
    this.inputs
      .pipe(
        observeOn(queueScheduler),
        scan<Stamped, Change>(([session], input) => step(session, input), [this.session, []]),
        tap((change) => this.publish(change)),
      )
      .subscribe({ error: dark });
  }

  /** Stamped when it comes, not when its turn comes. */
  private hear(input: Input): void {
    const at = this.doors.clock.now();
    this.inputs.next({ ...input, at, ...this.player.standing(at - this.lastTickAt) });
  }

  private publish([session, wishes]: Change): void {
    this.session = session;
    this.doors.watcher.show(session);
    for (const wish of wishes) {
      if (wish.kind === "write" || wish.kind === "open-line") this.outstanding++;
      this.wishes.next(wish);
    }
  }

  /** What the shell itself does at once. */
  private instantLane(): Observable<Input> {
    return this.wishes.pipe(
      concatMap((wish) => {
        this.carry(wish);
        return EMPTY;
      }),
    );
  }

  private carry(wish: Wish): void {
    const { player, doors } = this;
    if (wish.kind === "play") player.play(wish.key, wish.step, wish.from);
    else if (wish.kind === "freeze") player.freeze();
    else if (wish.kind === "go-dark") player.goDark();
    else if (wish.kind === "rest") player.rest();
    else if (wish.kind === "mains-on") doors.mainsOn();
    else if (wish.kind === "say") doors.voice.say(wish.words);
    else if (wish.kind === "end") this.restLeft = REST_FRAMES;
  }

  private lineLane(): Observable<Input> {
    return this.wishes.pipe(
      filter((wish) => wish.kind === "open-line"),
      concatMap(({ patience }) =>
        defer(() => this.doors.line.open((error) => this.lost(error))).pipe(
          retry({ count: patience === "once" ? 0 : Number.POSITIVE_INFINITY, delay: () => timer(REOPEN_EVERY_MS) }),
          map((): Input => ({ kind: "line-open" })),
          catchError((error: unknown) => of(lostInput(error))),
          takeUntil(this.ended()),
          finalize(() => this.answered()),
        ),
      ),
    );
  }

  private lost(error: LineError): void {
    this.doors.log.note("line lost", { code: error.code, message: error.message });
    this.hear(lostInput(error));
  }

  private journalLane(): Observable<Input> {
    return this.wishes.pipe(
      filter((wish) => wish.kind === "write"),
      concatMap((wish) =>
        defer(() => this.doors.journal.append(this.eventOf(wish))).pipe(
          map((): Input => ({ kind: "stored", count: wish.count })),
          catchError((error: unknown) => of<Input>({ kind: "journal-failed", words: wordsOf(error) })),
          finalize(() => this.answered()),
        ),
      ),
    );
  }

  /** Whatever a door has not answered when the run ends is no longer waited for, but for the journal. */
  private ended(): Observable<Wish> {
    return this.wishes.pipe(filter(({ kind }) => kind === "end"));
  }

  private answered(): void {
    this.outstanding--;
  }

  private eventOf({ body, person, count }: Extract<Wish, { kind: "write" }>): RunEvent {
    const { run, bench, clock } = this.doors;
    return {
      id: `${run}-${String(count).padStart(5, "0")}`,
      v: EVENT_VERSION,
      bench,
      person,
      at: clock.date(),
      run,
      body,
    };
  }
}

const lostInput = (error: unknown): Input => {
  if (error instanceof LineError) return { kind: "line-lost", words: error.message };
  throw error;
};

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
