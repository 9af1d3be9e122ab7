import type { FunctionId } from "../domain/trade/functions.ts";
import type { Menu } from "./build.ts";
import type { FrameMoment, SourceMoment, Stance } from "./moment.ts";
import type { Sounds } from "./scene.ts";

/** How a part misbehaves: everything that can be physically wrong is put together from these. */
export type PartTrouble =
  | MoverTrouble
  | OpticsTrouble
  | SourceTrouble
  | SettingsTrouble
  | SupplyTrouble
  | DataTrouble
  | AirTrouble;

/** Something about a motor and what it moves. A hook that is absent is as in a healthy part. */
export interface MoverTrouble {
  readonly kind: "mover";
  readonly function: FunctionId;
  /** Resistance, 0 free to 1 stuck. */
  readonly drag?: (stance: Stance) => number;
  /** How much the electronics hold back, 0 not at all to 1 fully: like resistance, but nothing rubs. */
  readonly holdsBack?: (stance: Stance) => number;
  readonly drive?: (stance: Stance) => Drive;
  /** Free play between motor and load, in the part's own measure: share of travel, or turns. */
  readonly play?: (stance: Stance) => number;
  /** How much more it swings after a stop; 1 is a degree or two after a full stop. */
  readonly looseness?: number;
  /** How far the load is shifted against the motor for as long as it lasts, in the part's own measure. */
  readonly pull?: (stance: Stance) => number;
  /** How far it slips in this frame, in the part's own measure; that stays until the next homing. */
  readonly slip?: (stance: Stance) => number;
  /** How far an encoder's reading is from the truth, in the part's own measure. */
  readonly misreads?: (stance: Stance) => number;
  /** Where its own travel is blocked. */
  readonly ends?: { readonly low: number; readonly high: number };
  /** How far from the true place home is found, in the part's own measure; asked again at every homing. */
  readonly homeShift?: (stance: Stance) => number;
  /** How many times it searches, from 1; after three it gives up with an error. */
  readonly homeTries?: (stance: Stance) => number;
  readonly sounds?: (stance: Stance) => Partial<Sounds>;
}

/** Alive; dead and slack; buzzing on the spot with torque but no travel. */
export type Drive = "alive" | "dead" | "buzzing";

/** How the picture is spoilt, each 0 to 1. */
export interface Spoils {
  readonly dim: number;
  readonly tint: number;
  readonly veil: number;
  readonly shadow: number;
  readonly oval: number;
  /** Light that passes although all is shut. */
  readonly leak: number;
  readonly wobble: number;
  readonly soft: number;
}

export interface TroubledMoment extends FrameMoment {
  /** Where a part is now, as a share of its travel or in turns; 0 for one that is not fitted. */
  readonly at: (id: FunctionId) => number;
}

export interface OpticsTrouble {
  readonly kind: "optics";
  readonly spoils?: (look: TroubledMoment) => Partial<Spoils>;
  /** Streaks and blotches of one flag or wheel. */
  readonly patchy?: { readonly function: FunctionId; readonly how: (look: TroubledMoment) => number };
}

export interface SourceTrouble {
  readonly kind: "source";
  /** The factor on the light, 0 to 1. */
  readonly gives?: (moment: SourceMoment) => number;
  /** Asked once per try to strike. */
  readonly strikes?: (moment: SourceMoment) => boolean;
  /** True in the frame in which the light goes out. */
  readonly drops?: (moment: SourceMoment) => boolean;
  /** An emitter that stays dark. */
  readonly emitter?: FunctionId;
}

interface SettingsTrouble {
  readonly kind: "settings";
  readonly change: (menu: Menu) => Menu;
}

/** True in the frame in which the electronics restart. */
export interface SupplyTrouble {
  readonly kind: "supply";
  readonly resets: (moment: SourceMoment) => boolean;
}

/** True when this frame is not understood. */
export interface DataTrouble {
  readonly kind: "data";
  readonly loses: (moment: FrameMoment) => boolean;
}

export interface AirTrouble {
  readonly kind: "air";
  readonly fan: (moment: FrameMoment) => { readonly loud: number; readonly tick: number; readonly turning: boolean };
  /** How strongly it smells burnt, 0 to 1. */
  readonly smell?: (moment: FrameMoment) => number;
  /** How much hotter the head is inside, in degrees Celsius. */
  readonly hotter?: (moment: FrameMoment) => number;
}

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
