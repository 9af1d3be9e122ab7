import type { FunctionId } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import type { Comparison, PartScene, Picture, Scene } from "../scene.ts";

/** What one must look at to judge the picture as a whole. */
const VIEWS: readonly FunctionId[] = [
  "Dimmer",
  "Focus1",
  "Zoom",
  "ColorAdd_R",
  "ColorAdd_G",
  "ColorAdd_B",
  "ColorAdd_W",
];
const LOOKS_FOR: Frame = 30;
const NOTICED = 0.15;
const DIMMER = 0.22;
const FLICKER = 0.08;

export interface OnWall {
  readonly symptom: SymptomId;
  readonly function: FunctionId | undefined;
  readonly clear: number;
}

/** Looks at the wall: what is wrong with the picture, apart from what moves. */
export class WallEye {
  private readonly functions: readonly FunctionId[];
  private readonly looked = new Map<string, Frame>();
  private shaded: Frame = 0;
  private unshaded: Frame = 0;
  private jumps: readonly Frame[] = [];
  private before: Comparison | undefined;

  constructor(functions: readonly FunctionId[]) {
    this.functions = functions;
  }

  /** What is noticed of the picture on the wall in this frame, beside that of a sound twin. */
  see(both: Comparison): readonly OnWall[] {
    const { scene, twin } = both;
    const seen = [...this.leaks(scene, twin), ...this.flickers(both), ...this.dead(scene.picture, twin.picture)];
    if (twin.picture.output > 0.05 && scene.picture.output > 0.02)
      seen.push(...this.picture(scene.picture, twin.picture), ...this.colours(both));
    this.before = both;
    return seen;
  }

  /** Ends the step and thinks back: a shadow that came and went with the frost is the frost's. */
  settle(): readonly OnWall[] {
    const came = this.tests("Frost1") && this.shaded > LOOKS_FOR && this.unshaded > LOOKS_FOR;
    return came ? [{ symptom: "shadow", function: "Frost1", clear: 2 }] : [];
  }

  private picture(mine: Picture, twin: Picture): readonly OnWall[] {
    const views = this.functions.some((id) => VIEWS.includes(id));
    const shaded = mine.shadow - twin.shadow;
    if (shaded > NOTICED) this.shaded += 1;
    else this.unshaded += 1;
    const dim = twin.field > 0 ? 1 - mine.field / twin.field : 0;
    return [
      ...(views || dim > 0.6 ? this.long("dim", dim / DIMMER, undefined) : []),
      ...(views ? this.long("tinted", (mine.tint - twin.tint) / NOTICED, undefined) : []),
      ...(views ? this.long("veil", (mine.veil - twin.veil) / NOTICED, undefined) : []),
      ...(views ? this.long("shadow", shaded / NOTICED, undefined) : []),
      ...(this.tests("Iris") ? this.long("not-round", (mine.oval - twin.oval) / NOTICED, "Iris") : []),
      ...this.turning(mine, twin),
    ];
  }

  /** An emitter that should shine and does not, even when nothing else is on. */
  private dead(mine: Picture, twin: Picture): readonly OnWall[] {
    const dead = twin.output > 0.05 ? mine.dark.filter((id) => !twin.dark.includes(id)) : [];
    return dead.flatMap((id) => this.long("colour-dead", 3, id, id));
  }

  private turning(mine: Picture, twin: Picture): readonly OnWall[] {
    const turner = this.functions.find((id) => id.endsWith("Pos"));
    const soft = (mine.soft - twin.soft) / NOTICED;
    if (!turner) return this.tests("Focus1") ? this.long("not-sharp", soft, "Focus1") : [];
    return [
      ...this.long("wobbles", (mine.wobble - twin.wobble) / NOTICED, turner),
      ...this.long("soft-turning", soft, turner),
    ];
  }

  /** Streaks show while the flag or filter stands in the beam. */
  private colours({ scene, twin }: Comparison): readonly OnWall[] {
    return this.functions.flatMap((id) => {
      const patchy = patchyOf(scene.parts, id) - patchyOf(twin.parts, id);
      return this.long("patchy", patchy / NOTICED, id, id);
    });
  }

  private leaks(scene: Scene, twin: Scene): readonly OnWall[] {
    const shut = this.functions.find((id) => id.startsWith("Shutter") || id === "Dimmer" || id === "Iris");
    if (!shut || twin.picture.output > 0.001 || !twin.picture.lit) return [];
    return this.long("leaks-light", scene.picture.leak > 0.01 && scene.picture.output > 0.005 ? 2 : 0, shut);
  }

  /** Three jumps of the light within a second that it should not make. */
  private flickers({ scene, twin }: Comparison): readonly OnWall[] {
    const was = this.before;
    if (!was || was.twin.picture.field <= 0 || twin.picture.field <= 0) return [];
    const jump = change(scene, was.scene) - change(twin, was.twin);
    if (Math.abs(jump) > FLICKER && twin.picture.output > 0.02) this.jumps = [...this.jumps, scene.frame];
    this.jumps = this.jumps.filter((frame) => scene.frame - frame < FRAMES_PER_SECOND);
    if (this.jumps.length < 3 || this.looked.get("flickers") === Number.POSITIVE_INFINITY) return [];
    this.looked.set("flickers", Number.POSITIVE_INFINITY);
    return [{ symptom: "flickers", function: undefined, clear: 2 }];
  }

  /** Reported once, when it has shown for three quarters of a second. */
  private long(symptom: SymptomId, clear: number, id: FunctionId | undefined, key = ""): readonly OnWall[] {
    const frames = clear > 1 ? (this.looked.get(symptom + key) ?? 0) + 1 : (this.looked.get(symptom + key) ?? 0);
    this.looked.set(symptom + key, frames);
    return clear > 1 && frames === LOOKS_FOR ? [{ symptom, function: id, clear }] : [];
  }

  private tests(id: FunctionId): boolean {
    return this.functions.includes(id);
  }
}

const patchyOf = (parts: readonly PartScene[], id: FunctionId): number => {
  const part = parts.find((found) => found.function === id);
  return part && (part.kind === "travel" || part.kind === "wheel") ? part.patchy : 0;
};

const change = (now: Scene, before: Scene): number =>
  before.picture.field > 0 ? now.picture.field / before.picture.field - 1 : 0;
