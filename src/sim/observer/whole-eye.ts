import { type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import { type Comparison, type PartScene, type Scene, shines } from "../scene.ts";
import { keenOn } from "./eye.ts";
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

const OUT_FOR: Frame = 16;
/** Where it was lit this long before it went out, the cause is heat rather than a bad strike. */
const LONG_LIT: Frame = 240 * FRAMES_PER_SECOND;
const STRIKES_LATE: Frame = 3 * FRAMES_PER_SECOND;
const GIVES_UP: Frame = 20 * FRAMES_PER_SECOND;

/** Keeps an eye on the source: never lit, lit late, or gone out. */
class LightWatch {
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

const SEARCHES: Frame = 30;

interface HomeNote {
  readonly symptom: SymptomId;
  readonly function: FunctionId;
}

/** Follows a homing: who goes on searching when it should have found its place, which axis does not stir. */
export class HomeEye {
  private readonly moves = new Map<
    FunctionId,
    { readonly first: number; readonly far: number; readonly alone: Frame }
  >();
  private readonly twins = new Map<FunctionId, { readonly at: number; readonly far: number; readonly first: number }>();
  private homing = false;

  /**
   * What is noticed of a homing beside that of a sound twin. Both must have begun together: a
   * reset of its own is another matter.
   */
  see({ scene, twin }: Comparison): readonly HomeNote[] {
    if (scene.phase !== "homing") return this.over(scene);
    if (!this.homing && twin.phase !== "homing") return [];
    this.homing = true;
    return scene.parts.flatMap((part, n) => this.searching(part, twin.parts[n] ?? part));
  }

  private searching(part: PartScene, twin: PartScene): readonly HomeNote[] {
    const keen = keenOn(part, "dark");
    const twinMoved = Math.abs(twin.at - (this.twins.get(part.function)?.at ?? twin.at)) > 1e-6;
    this.follow(part, twin);
    const { first, far, alone } = this.moves.get(part.function) ?? { first: part.at, far: 0, alone: 0 };
    const searches = !twinMoved && Math.abs(part.speed) > keen.speed;
    const frames = searches ? alone + 1 : 0;
    this.moves.set(part.function, { first, far, alone: frames });
    return searches && frames === SEARCHES ? [{ symptom: "keeps-homing", function: part.function }] : [];
  }

  private follow(part: PartScene, twin: PartScene): void {
    const mine = this.moves.get(part.function) ?? { first: part.at, far: 0, alone: 0 };
    this.moves.set(part.function, { ...mine, far: Math.max(mine.far, Math.abs(part.at - mine.first)) });
    const other = this.twins.get(part.function) ?? { at: twin.at, far: 0, first: twin.at };
    this.twins.set(part.function, { ...other, at: twin.at, far: Math.max(other.far, Math.abs(twin.at - other.first)) });
  }

  private over(scene: ComparedScene): readonly HomeNote[] {
    if (!this.homing) return [];
    this.homing = false;
    const told = scene.parts.filter((part) => isAxisFunction(part.function)).flatMap((part) => this.lame(part));
    this.moves.clear();
    this.twins.clear();
    return told;
  }

  private lame(part: PartScene): readonly HomeNote[] {
    const { place } = keenOn(part, "dark");
    const still =
      (this.moves.get(part.function)?.far ?? 0) < place && (this.twins.get(part.function)?.far ?? 0) > 3 * place;
    return still ? [{ symptom: part.trembles > 0 ? "trembles" : "no-move", function: part.function }] : [];
  }
}

type ComparedScene = Comparison["scene"];
