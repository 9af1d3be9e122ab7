import type { RoutineId } from "../../trade/routines.ts";
import type { SymptomId } from "../../trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../units.ts";
import { type Comparison, type Scene, shines } from "../scene.ts";

const READS_DISPLAY: readonly RoutineId[] = ["power-up", "home", "identify", "return"];
const LOUD = 0.3;
const OUT_FOR: Frame = 16;
/** Lit for so long before it went out, it is heat rather than a bad strike. */
const LONG_LIT: Frame = 240 * FRAMES_PER_SECOND;
const NO_STRIKE: Frame = 20 * FRAMES_PER_SECOND;
const STRIKE_LATE: Frame = 3 * FRAMES_PER_SECOND;

/** Notices what nobody overlooks, whatever is being tested: resets, light out, smells, a loud fan, an error text. */
export class WholeEye {
  private before: Comparison | undefined;
  private readonly said = new Set<SymptomId>();
  private litFor: Frame = 0;
  private out: Frame = 0;
  private twinWaits: Frame = 0;

  /** A new step: what is still wrong may be said again. */
  begin(): void {
    this.said.clear();
  }

  see(both: Comparison, routine: RoutineId | undefined): readonly SymptomId[] {
    const { scene, twin } = both;
    const seen: readonly (readonly [boolean, SymptomId])[] = [
      [this.turned(both, "ready", "homing"), "reset-itself"],
      [scene.phase === "off" && twin.phase !== "off", "went-dead"],
      [scene.fan.loud - twin.fan.loud > LOUD, "fan-loud"],
      [scene.smell - twin.smell > LOUD, "smells-burnt"],
      [this.reads(routine) && isError(scene) && !isError(twin), "error-shown"],
      [this.reads(routine) && scene.phase !== "off" && scene.display === "", "display-dark"],
    ];
    const found = [...seen.flatMap(([shows, symptom]) => (shows ? [symptom] : [])), ...this.light(both)];
    this.before = both;
    const fresh = found.filter((symptom) => !this.said.has(symptom));
    for (const symptom of fresh) this.said.add(symptom);
    return fresh;
  }

  private turned({ scene, twin }: Comparison, from: Scene["phase"], to: Scene["phase"]): boolean {
    return this.before?.scene.phase === from && scene.phase === to && twin.phase === "ready";
  }

  private reads(routine: RoutineId | undefined): boolean {
    return routine !== undefined && READS_DISPLAY.includes(routine);
  }

  /** The source out where it should burn: never lit, late, or gone out. */
  private light({ scene, twin }: Comparison): readonly SymptomId[] {
    const missing = twin.picture.lit && !scene.picture.lit;
    const lasted = this.litFor;
    this.litFor = scene.picture.lit ? this.litFor + 1 : missing ? this.litFor : 0;
    if (twin.phase !== "ready") this.twinWaits = 0;
    else if (!twin.picture.lit) this.twinWaits += 1;
    const struckLate = scene.picture.lit && this.out > this.twinWaits + STRIKE_LATE && lasted === 0;
    this.out = missing && scene.phase === "ready" ? this.out + 1 : 0;
    if (struckLate) return ["slow-strike"];
    if (this.out < OUT_FOR || !shines(twin)) return [];
    if (lasted === 0) return this.out > this.twinWaits + NO_STRIKE ? ["no-strike"] : [];
    return lasted > LONG_LIT ? ["light-out", "cuts-out"] : ["light-out"];
  }
}

const isError = ({ display }: Scene): boolean => display.startsWith("error");
