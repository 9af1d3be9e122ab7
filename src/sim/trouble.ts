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
