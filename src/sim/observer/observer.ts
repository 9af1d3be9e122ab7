import type { FunctionId } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import type { FixtureBuild } from "../build.ts";
import { chanceFrom, exGaussian, type SimDraw, seedFor } from "../chance.ts";
import type { Comparison, Scene } from "../scene.ts";
import { EXACT, falseWordFor, type Habits, wordFor } from "./habits.ts";
import type { Named, Notice, WatchedStep } from "./notice.ts";
import { Perception } from "./perception.ts";

/** Seconds of reaction: the mean and spread of the normal part and the mean of the tail. An assumption, as are the rates. */
const REACTION = [0.3, 0.05, 0.1] as const;
/** The share of what one would catch with one fixture in view that is left for each further one. An assumption. */
const LEFT_FOR_EACH_MORE = 0.93;
const FALSE_PRESSES_PER_S = 0.1 / 60;
/** Presses for one thing: nobody presses twice within so short a time. */
const ONE_PRESS_WITHIN: Frame = 20;

export interface WatcherReport {
  readonly symptoms: readonly { readonly symptom: SymptomId; readonly function: FunctionId | undefined }[];
  readonly sure: boolean;
}

/** A simulated person in front of the fixture: presses late, misses things, presses for nothing now and then. */
export interface Observer {
  begin(step: WatchedStep): void;
  /** One frame; how many presses fall due in it. Frames between steps are to be shown too. */
  see(scene: Scene, twin: Scene): number;
  end(): WatcherReport;
}

/**
 * A simulated person who watches a fixture and presses. `seed` is any whole number: the same seed gives
 * the same presses for the same scenes.
 */
export const observer = (build: FixtureBuild, seed: number, habits: Habits = EXACT): Observer =>
  new WatchingPerson(new Perception(build), chanceFrom(seedFor(seed, "onlooker")), habits);

class WatchingPerson implements Observer {
  private readonly perception: Perception;
  private readonly chance: SimDraw;
  private readonly habits: Habits;
  private step: WatchedStep | undefined;
  private due: readonly Frame[] = [];
  private told: readonly Named[] = [];
  private frame: Frame = 0;
  private lastPress: Frame = Number.NEGATIVE_INFINITY;
  private watching = false;
  /** How many are watched at once. */
  private together = 1;
  private pressed = false;
  /** Starts at each function, and how many of them were caught. */
  private starts = new Map<FunctionId, number>();
  private caught = new Map<FunctionId, number>();

  constructor(perception: Perception, chance: SimDraw, habits: Habits) {
    this.perception = perception;
    this.chance = chance;
    this.habits = habits;
  }

  begin(step: WatchedStep): void {
    this.step = step;
    this.due = [];
    this.told = [];
    this.watching = true;
    this.together = step.together ?? 1;
    this.pressed = false;
    this.starts.clear();
    this.caught.clear();
    this.lastPress = Number.NEGATIVE_INFINITY;
    this.perception.begin(step);
  }

  see(scene: Scene, twin: Scene): number {
    this.frame += 1;
    const notices = this.perception.see({ scene, twin });
    if (!this.watching) return 0;
    for (const notice of notices) this.take(notice);
    if (this.chance() < FALSE_PRESSES_PER_S / this.together / FRAMES_PER_SECOND) this.press();
    const now = this.due.filter((frame) => frame <= this.frame).length;
    this.due = this.due.filter((frame) => frame > this.frame);
    return now;
  }

  end(): WatcherReport {
    for (const notice of this.perception.end()) this.take(notice);
    this.watching = false;
    const named = unique([...this.told.map((one) => this.inOwnWords(one)), ...this.imagined()]);
    const doubtful = named.length > 0 && this.told.every(({ clear }) => clear < 1.5);
    return {
      symptoms: named.map(({ symptom, function: id }) => ({ symptom, function: id })),
      sure: !(doubtful || (this.pressed && named.length === 0)),
    };
  }

  private inOwnWords(told: Named): Named {
    return { ...told, symptom: wordFor(this.habits, told.symptom, told.function, this.chance) };
  }

  private imagined(): readonly Named[] {
    const [id] = this.step?.functions ?? [];
    if (this.habits.falseWord === 0 || id === undefined || this.told.length > 0) return [];
    const symptom = this.chance() < this.habits.falseWord ? falseWordFor(id, this.chance) : undefined;
    return symptom === undefined
      ? []
      : [{ kind: "symptom", symptom, function: id, from: id, when: "afterwards", clear: 2 }];
  }

  private take(notice: Notice): void {
    const missed = this.chance() < missesAmong(this.habits.misses, this.together);
    if (notice.kind === "there") this.start(notice.function, missed);
    else if (notice.when === "afterwards") this.recall(notice, missed);
    else if (!missed) this.tell(notice);
  }

  private start(id: FunctionId, missed: boolean): void {
    this.starts.set(id, (this.starts.get(id) ?? 0) + 1);
    if (missed) return;
    this.caught.set(id, (this.caught.get(id) ?? 0) + 1);
    this.press();
  }

  /** Only what was caught at the time can be put into words; what gave no start may still be noticed or missed. */
  private recall(notice: Named, missed: boolean): void {
    const id = notice.from;
    const started = id !== undefined && this.starts.has(id);
    if (started ? this.caught.has(id) : !missed) this.told = [...this.told, notice];
  }

  private tell(notice: Named): void {
    this.told = [...this.told, notice];
    this.press();
  }

  private press(): void {
    if (this.frame - this.lastPress < ONE_PRESS_WITHIN) return;
    this.lastPress = this.frame;
    this.pressed = true;
    this.due = [...this.due, this.frame + Math.round(exGaussian(this.chance, ...REACTION) * FRAMES_PER_SECOND)];
  }
}

/** More with several fixtures in view. */
const missesAmong = (misses: number, together: number): number =>
  1 - (1 - misses) * LEFT_FOR_EACH_MORE ** (together - 1);

const unique = (told: readonly Named[]): typeof told =>
  told.filter(
    (one, n) => told.findIndex((other) => other.symptom === one.symptom && other.function === one.function) === n,
  );

/** What there was to be noticed in a step: from which of its frames on, and what it amounted to. */
export interface ShownInStep {
  readonly frames: readonly Frame[];
  readonly symptoms: readonly SymptomId[];
}

/** Somebody who misses nothing and imagines nothing, to tell afterwards what a person could have caught. */
export class AllSeeing {
  private readonly perception: Perception;
  private frame: Frame = 0;
  private frames: Frame[] = [];
  private symptoms = new Set<SymptomId>();
  private watching = false;

  constructor(build: FixtureBuild) {
    this.perception = new Perception(build);
  }

  /** Begins to watch a step: the next frame is its frame 0. */
  begin(step: WatchedStep): void {
    this.frame = -1;
    this.frames = [];
    this.symptoms = new Set();
    this.watching = true;
    this.perception.begin(step);
  }

  /** Watches one frame; frames between steps are to be shown too. */
  see(both: Comparison): void {
    this.frame += 1;
    const notices = this.perception.see(both);
    if (!this.watching) return;
    for (const notice of notices) if (notice.kind === "symptom") this.symptoms.add(notice.symptom);
    if (notices.some((one) => one.kind === "there" || one.when === "at once")) this.frames.push(this.frame);
  }

  /** Ends the step and says in which of its frames something showed, and which symptoms. */
  end(): ShownInStep {
    for (const notice of this.perception.end()) if (notice.kind === "symptom") this.symptoms.add(notice.symptom);
    this.watching = false;
    return { frames: this.frames, symptoms: [...this.symptoms] };
  }
}
