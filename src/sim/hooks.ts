import type { Stance } from "./moment.ts";
import type { Sounds } from "./scene.ts";
import type { Drive, MoverTrouble } from "./trouble.ts";

type Hook<K extends keyof MoverTrouble> = NonNullable<MoverTrouble[K]>;

/** What several troubles on one part add up to. A healthy part has none, and then nothing is asked. */
export class Hooks {
  readonly looseness: number;
  /** Something between motor and load gives, so that running into a stop makes no noise. */
  readonly gives: boolean;
  /** The nearest of all blocks from each end. */
  readonly low: number;
  readonly high: number;
  private readonly drags: readonly Hook<"drag">[];
  private readonly holds: readonly Hook<"holdsBack">[];
  private readonly drives: readonly Hook<"drive">[];
  private readonly plays: readonly Hook<"play">[];
  private readonly pulls: readonly Hook<"pull">[];
  private readonly slips: readonly Hook<"slip">[];
  private readonly misread: readonly Hook<"misreads">[];
  private readonly shifts: readonly Hook<"homeShift">[];
  private readonly searches: readonly Hook<"homeTries">[];
  private readonly noises: readonly Hook<"sounds">[];

  constructor(troubles: readonly MoverTrouble[]) {
    const all = <K extends keyof MoverTrouble>(key: K): readonly Hook<K>[] =>
      troubles.map((trouble) => trouble[key]).filter((hook): hook is Hook<K> => hook !== undefined);
    this.looseness = all("looseness").reduce((sum, more) => sum + more, 0);
    this.low = Math.max(Number.NEGATIVE_INFINITY, ...all("ends").map(({ low }) => low));
    this.high = Math.min(Number.POSITIVE_INFINITY, ...all("ends").map(({ high }) => high));
    this.drags = all("drag");
    this.holds = all("holdsBack");
    this.drives = all("drive");
    this.plays = all("play");
    this.pulls = all("pull");
    this.slips = all("slip");
    this.gives = this.slips.length > 0;
    this.misread = all("misreads");
    this.shifts = all("homeShift");
    this.searches = all("homeTries");
    this.noises = all("sounds");
  }

  /** How much of the motor's speed all resistances together take away, 0 to 1. */
  drag(stance: Stance): number {
    return this.drags.length === 0 ? 0 : 1 - this.drags.reduce((free, hook) => free * (1 - hook(stance)), 1);
  }

  /**
   * How much resistance and what holds the part back take away together, 0 to 1. `drag` is the share
   * that resistance alone takes, 0 to 1.
   */
  restraint(stance: Stance, drag: number): number {
    return 1 - this.holds.reduce((free, hook) => free * (1 - hook(stance)), 1 - drag);
  }

  /** Whether the motor turns, only buzzes, or does nothing. */
  drive(stance: Stance): Drive {
    if (this.drives.length === 0) return "alive";
    const drives = this.drives.map((hook) => hook(stance));
    return drives.includes("dead") ? "dead" : drives.includes("buzzing") ? "buzzing" : "alive";
  }

  play = (stance: Stance): number => sum(this.plays, stance);
  pull = (stance: Stance): number => sum(this.pulls, stance);
  slip = (stance: Stance): number => sum(this.slips, stance);
  misreads = (stance: Stance): number => sum(this.misread, stance);
  homeShift = (stance: Stance): number => sum(this.shifts, stance);

  /** How many searches the part needs to find its home, 1 or more. */
  tries(stance: Stance): number {
    return Math.max(1, ...this.searches.map((hook) => hook(stance)));
  }

  /** What the part sounds like: its own sounds and those of its troubles, the louder of each kind. */
  sounds(stance: Stance, own: Sounds): Sounds {
    return this.noises.reduce((heard, hook) => louder(heard, hook(stance)), own);
  }
}

const sum = (hooks: readonly ((stance: Stance) => number)[], stance: Stance): number =>
  hooks.length === 0 ? 0 : hooks.reduce((total, hook) => total + hook(stance), 0);

/** Mixes sounds: of two of one kind only the louder is heard. */
const louder = (a: Sounds, b: Partial<Sounds>): Sounds => ({
  hum: Math.max(a.hum, b.hum ?? 0),
  scrape: Math.max(a.scrape, b.scrape ?? 0),
  knock: Math.max(a.knock, b.knock ?? 0),
  tick: Math.max(a.tick, b.tick ?? 0),
  whine: Math.max(a.whine, b.whine ?? 0),
  rattle: Math.max(a.rattle, b.rattle ?? 0),
});
