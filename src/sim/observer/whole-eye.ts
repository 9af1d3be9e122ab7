import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Comparison, Scene } from "../scene.ts";
import { LightWatch } from "./light-watch.ts";
import type { WatchedStep } from "./notice.ts";

const READS_DISPLAY: readonly RoutineId[] = ["power-up", "home", "identify", "return", "self-test"];
const LIGHTS: readonly FunctionId[] = [
  "Shutter1",
  "Dimmer",
  "Iris",
  "ColorAdd_R",
  "ColorAdd_G",
  "ColorAdd_B",
  "ColorAdd_W",
];
const LOUD = 0.3;
/** Notices what nobody overlooks, whatever is being tested: resets, light out, smells, a loud fan, an error text. */
export class WholeEye {
  private before: Comparison | undefined;
  private readonly said = new Set<SymptomId>();
  private readonly lightWatch = new LightWatch();

  /** Begins a step: what is still wrong may be said again. */
  begin(): void {
    this.said.clear();
  }

  /** What is noticed of the fixture as a whole in this frame, beside a sound twin. */
  see(both: Comparison, step: WatchedStep | undefined): readonly SymptomId[] {
    const routine = step?.routine;
    const asked = step?.functions.some((id) => LIGHTS.includes(id)) ? "of the light" : "of others";
    const { scene, twin } = both;
    const seen: readonly (readonly [boolean, SymptomId])[] = [
      [this.turned(both, "ready", "homing"), "reset-itself"],
      [scene.phase === "off" && twin.phase !== "off", "went-dead"],
      [scene.fan.loud - twin.fan.loud > LOUD, "fan-loud"],
      [scene.smell - twin.smell > LOUD, "smells-burnt"],
      [this.reads(routine) && isError(scene) && !isError(twin), "error-shown"],
      [this.reads(routine) && scene.phase !== "off" && scene.display === "", "display-dark"],
    ];
    const found = [
      ...seen.flatMap(([shows, symptom]) => (shows ? [symptom] : [])),
      ...this.lightWatch.see(both, asked),
    ];
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
}

const isError = ({ display }: Scene): boolean => display.startsWith("error");
