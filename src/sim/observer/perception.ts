import { type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import type { FixtureBuild } from "../build.ts";
import { type Comparison, type PartScene, shines } from "../scene.ts";
import { type Named, type Notice, named, type WatchedStep } from "./notice.ts";
import { PartWatch } from "./part-watch.ts";
import { Memory } from "./rests.ts";
import { type OnWall, WallEye } from "./wall-eye.ts";
import { HomeEye, WholeEye } from "./whole-eye.ts";

const HURRIES: Frame = 4 * FRAMES_PER_SECOND;
/** Routines at which one watches the whole fixture find its home. */
const HOMING: readonly RoutineId[] = ["power-up", "home", "return", "self-test"];

/**
 * What eyes and ears take in, without chance: sees and hears only what shows, and knows from experience what should be
 * there. Closely on the functions under test; elsewhere only what nobody overlooks.
 */
export class Perception {
  private readonly build: FixtureBuild;
  private readonly whole = new WholeEye();
  private readonly strangers = new Strangers();
  private readonly home = new HomeEye();
  private readonly memory = new Memory();
  private watched = new Map<FunctionId, PartWatch>();
  private wall = new WallEye([]);
  private step: WatchedStep | undefined;
  /** Frames until a fixture that came late from its homing has caught up. */
  private behind: Frame = 0;
  private strange: readonly FunctionId[] = [];

  constructor(build: FixtureBuild) {
    this.build = build;
  }

  /** Begins to watch a step: the next frame is its frame 0. */
  begin(step: WatchedStep): void {
    this.step = step;
    this.whole.begin();
    this.strange = [];
    this.wall = new WallEye(step.functions);
    this.watch(step);
  }

  /** What is noticed in this frame. */
  see(both: Comparison): readonly Notice[] {
    const light = shines(both.scene) || shines(both.twin) ? "lit" : "dark";
    const homes = this.home.see(both);
    const others = this.strangers.see(both, this.step?.functions ?? [], light);
    const whole = this.whole.see(both, this.step);
    if (!this.step) return [];
    return [
      ...whole.map(ofWhole),
      ...(HOMING.includes(this.step.routine) ? homes.flatMap((told) => this.tell(told.function, told.symptom, 2)) : []),
      ...this.stranger(others),
      ...(this.settled(both) ? this.closely(both, light) : []),
    ];
  }

  /** Ends the step and says what all of it amounted to. */
  end(): readonly Notice[] {
    const parts = [...this.watched].flatMap(([id, watch]) =>
      watch.settle().flatMap((symptom) => this.thought(id, symptom)),
    );
    this.step = undefined;
    return [...parts, ...this.wall.settle().map((seen) => onWall(seen, "afterwards"))];
  }

  /** A fixture that was still busy with itself first hurries to where it should be; then one looks anew. */
  private settled({ scene, twin }: Comparison): boolean {
    const ready = scene.phase === "ready" && twin.phase === "ready";
    this.behind = twin.phase === "ready" && !ready ? Math.min(HURRIES, this.behind + 4) : this.behind - 1;
    if (ready && this.behind === 0 && this.step) this.watch(this.step);
    return ready && this.behind <= 0;
  }

  private watch(step: WatchedStep): void {
    const parts = this.build.parts.filter(({ kind, function: id }) => moves(kind) && step.functions.includes(id));
    this.watched = new Map(parts.map((part) => [part.function, new PartWatch(part, this.memory)]));
  }

  private closely(both: Comparison, light: "lit" | "dark"): readonly Notice[] {
    const parts = [...this.watched].flatMap(([id, watch]): readonly Notice[] => {
      const { heard, there } = watch.see(both, light);
      const sounds = heard.flatMap(({ symptom, clear }) => this.tell(id, symptom, clear));
      return there ? [...sounds, { kind: "there", function: id }] : sounds;
    });
    return [...parts, ...this.wall.see(both).map((seen) => onWall(seen, "at once"))];
  }

  /** Said once a step, however many parts it concerns. */
  private stranger(others: readonly FunctionId[]): readonly Notice[] {
    const first = this.strange.length === 0 && others.length > 0;
    this.strange = [...new Set([...this.strange, ...others])];
    return first ? [ofWhole("something-else-moved")] : [];
  }

  /** Something else moved while this did not: then it moved instead. */
  private thought(id: FunctionId, symptom: SymptomId): readonly Notice[] {
    const instead = symptom === "no-move" && this.strange.length > 0;
    return this.tell(id, instead ? "wrong-thing" : symptom, 2).map((told) => ({ ...told, when: "afterwards" }));
  }

  private tell(id: FunctionId, symptom: SymptomId, clear: number): readonly Named[] {
    const name = named(this.build, id, symptom);
    return name ? [{ kind: "symptom", ...name, from: id, when: "at once", clear }] : [];
  }
}

const moves = (kind: string): boolean => kind !== "light" && kind !== "control";

const ofWhole = (symptom: SymptomId): Named => ({
  kind: "symptom",
  symptom,
  function: undefined,
  from: undefined,
  when: "at once",
  clear: 3,
});

const onWall = (seen: OnWall, when: Named["when"]): Named => ({ kind: "symptom", ...seen, from: undefined, when });

const WINDOW: Frame = FRAMES_PER_SECOND;
/** A part whose twin moved so recently may be late; that is not a stranger moving. */
const LATE_FOR: Frame = 4 * FRAMES_PER_SECOND;
const AXIS_DEG = 8;

interface Trail {
  /** Where it was a second ago, and where the twin has been standing for how long. */
  mark: number;
  markAge: Frame;
  twinAt: number;
  twinStood: Frame;
}

/** From the corner of the eye: which parts move that are not under test and should stand still. */
class Strangers {
  private readonly trails = new Map<FunctionId, Trail>();

  /** The functions that move in this frame although nobody asked for them and the sound twin's stand still. */
  see({ scene, twin }: Comparison, watched: readonly FunctionId[], light: "lit" | "dark"): readonly FunctionId[] {
    const ready = scene.phase === "ready" && twin.phase === "ready";
    return scene.parts.flatMap((part, n) => {
      const moved = this.follow(part, twin.parts[n]?.at ?? 0, ready);
      const plain = part.kind !== "turn" && part.kind !== "light" && !part.function.startsWith("Shutter");
      const visible = isAxisFunction(part.function) || light === "lit";
      return ready && plain && visible && moved > gross(part) && !watched.includes(part.function)
        ? [part.function]
        : [];
    });
  }

  /** How far it went of late while its twin stood. */
  private follow(part: PartScene, twinAt: number, ready: boolean): number {
    const trail = this.trailOf(part, twinAt);
    trail.twinStood = Math.abs(trail.twinAt - twinAt) < 1e-6 && ready ? trail.twinStood + 1 : 0;
    trail.twinAt = twinAt;
    trail.markAge += 1;
    if (trail.markAge > WINDOW || !ready) {
      trail.mark = part.at;
      trail.markAge = 0;
    }
    return trail.twinStood > LATE_FOR ? Math.abs(part.at - trail.mark) : 0;
  }

  private trailOf(part: PartScene, twinAt: number): Trail {
    const found = this.trails.get(part.function) ?? { mark: part.at, markAge: 0, twinAt, twinStood: 0 };
    this.trails.set(part.function, found);
    return found;
  }
}

const gross = (part: PartScene): number => {
  if (part.kind === "travel") return isAxisFunction(part.function) ? AXIS_DEG / part.span : 0.25;
  return part.kind === "wheel" ? 0.8 / part.places : 0.5;
};
