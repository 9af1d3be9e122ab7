import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import { type Comparison, shines } from "../scene.ts";

const OUT_FOR: Frame = 16;
/** Where it was lit this long before it went out, the cause is heat rather than a bad strike. */
const LONG_LIT: Frame = 240 * FRAMES_PER_SECOND;
const STRIKES_LATE: Frame = 3 * FRAMES_PER_SECOND;
const GIVES_UP: Frame = 20 * FRAMES_PER_SECOND;

/** Keeps an eye on the source: never lit, lit late, or gone out. */
export class LightWatch {
  private litFor: Frame = 0;
  private out: Frame = 0;
  private dark: Frame = 0;
  private bright: Frame = 0;
  /** How long the healthy one takes to strike once it is ready. */
  private usual: Frame = 0;

  /**
   * What is noticed of the light in this frame. `asked` says whether shutter, dimmer or iris are under test,
   * so that darkness is their business.
   */
  see({ scene, twin }: Comparison, asked: "of the light" | "of others"): readonly SymptomId[] {
    const source = this.source({ scene, twin });
    return source.length > 0 || asked === "of the light" ? source : this.beam({ scene, twin });
  }

  /** The beam dark where it should shine, or shining where it should be dark. */
  private beam({ scene, twin }: Comparison): readonly SymptomId[] {
    const ready = scene.phase === "ready" && twin.phase === "ready" && scene.picture.lit;
    const dark = ready && twin.picture.output > 0.05 && scene.picture.output < 0.02 * twin.picture.output;
    const bright = ready && twin.picture.output < 0.001 && scene.picture.output > 0.15;
    this.dark = dark ? this.dark + 1 : 0;
    this.bright = bright ? this.bright + 1 : 0;
    if (this.dark === OUT_FOR) return ["light-out"];
    return this.bright === OUT_FOR ? ["something-else-moved"] : [];
  }

  private source({ scene, twin }: Comparison): readonly SymptomId[] {
    if (twin.phase !== "ready") this.usual = 0;
    else if (!twin.picture.lit) this.usual += 1;
    return scene.picture.lit ? this.burning() : this.missing({ scene, twin });
  }

  private burning(): readonly SymptomId[] {
    const late = this.litFor === 0 && this.out > this.usual + STRIKES_LATE;
    this.litFor += 1;
    this.out = 0;
    return late ? ["slow-strike"] : [];
  }

  private missing({ scene, twin }: Comparison): readonly SymptomId[] {
    const should = twin.picture.lit;
    if (!should) this.litFor = 0;
    this.out = should && scene.phase === "ready" ? this.out + 1 : 0;
    if (this.out < OUT_FOR || !shines(twin)) return [];
    if (this.litFor === 0) return this.out > this.usual + GIVES_UP ? ["no-strike"] : [];
    return this.litFor > LONG_LIT ? ["light-out", "cuts-out"] : ["light-out"];
  }
}
