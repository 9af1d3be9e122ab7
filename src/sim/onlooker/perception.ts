import type { FunctionId } from "../../trade/functions.ts";
import type { RoutineId } from "../../trade/routines.ts";
import type { SymptomId } from "../../trade/symptoms.ts";
import type { FixtureBuild } from "../build.ts";
import { type Comparison, type PartScene, shines } from "../scene.ts";
import { Ear } from "./ear.ts";
import { HomeEye } from "./home-eye.ts";
import { isAxis } from "./keen.ts";
import { LeafEye } from "./leaf-eye.ts";
import { MoverEye } from "./mover-eye.ts";
import { named } from "./naming.ts";
import type { Named, Notice, WatchedStep } from "./notice.ts";
import type { Glance } from "./pair.ts";
import { Strangers } from "./strangers.ts";
import { WallEye } from "./wall-eye.ts";
import { WholeEye } from "./whole-eye.ts";

/** Routines at which one watches the whole fixture find its home. */
const HOMING: readonly RoutineId[] = ["power-up", "home", "return"];

interface Watched {
  readonly eye: MoverEye | LeafEye;
  readonly ear: Ear;
}

/**
 * What eyes and ears take in, without chance: sees and hears only what shows, and knows from experience what should be
 * there. Closely on the functions under test; elsewhere only what nobody overlooks.
 */
export class Perception {
  private readonly build: FixtureBuild;
  private readonly whole = new WholeEye();
  private readonly strangers = new Strangers();
  private readonly home = new HomeEye();
  private readonly known = new Map<FunctionId, boolean>();
  private watched = new Map<FunctionId, Watched>();
  private wall = new WallEye([]);
  private step: WatchedStep | undefined;
  private strange: readonly FunctionId[] = [];

  constructor(build: FixtureBuild) {
    this.build = build;
  }

  begin(step: WatchedStep): void {
    this.step = step;
    this.whole.begin();
    this.strange = [];
    this.wall = new WallEye(step.functions);
    this.watched = new Map(step.functions.flatMap((id) => this.watch(id)));
  }

  /** What is noticed in this frame. */
  see(both: Comparison): readonly Notice[] {
    const light = shines(both.scene) || shines(both.twin) ? "lit" : "dark";
    const homes = this.home.see(both);
    const others = this.strangers.see(both, this.step?.functions ?? [], light);
    const whole = this.whole.see(both, this.step?.routine);
    if (!this.step) return [];
    return [
      ...whole.flatMap((symptom) => this.onWhole(symptom)),
      ...(HOMING.includes(this.step.routine) ? homes.flatMap((told) => this.tell(told.function, told.symptom, 2)) : []),
      ...this.stranger(others),
      ...(both.scene.phase === "homing" || both.twin.phase === "homing" ? [] : this.closely(both, light)),
    ];
  }

  /** The step is over: what it all amounted to. */
  end(): readonly Notice[] {
    const thought = [...this.watched].flatMap(([id, { eye }]) => {
      if (eye instanceof MoverEye && eye.right !== undefined) this.known.set(id, eye.right);
      return eye.settle().flatMap((symptom) => this.thought(id, symptom));
    });
    this.step = undefined;
    return thought;
  }

  private watch(id: FunctionId): readonly (readonly [FunctionId, Watched])[] {
    const part = this.build.parts.find((found) => found.function === id);
    if (!part || part.kind === "light" || part.kind === "control") return [];
    const before = this.known.get(id) ? "right" : "unknown";
    return [[id, { eye: part.kind === "bands" ? new LeafEye() : new MoverEye(before), ear: new Ear() }]];
  }

  private closely(both: Comparison, light: "lit" | "dark"): readonly Notice[] {
    const parts = [...this.watched].flatMap(([id, watched]) => this.part(id, watched, both, light));
    const wall = this.wall.see(both).map((seen): Notice => ({ kind: "symptom", when: "at once", ...seen }));
    return [...parts, ...wall];
  }

  private part(id: FunctionId, { eye, ear }: Watched, both: Comparison, light: "lit" | "dark"): readonly Notice[] {
    const mine = partOf(both.scene.parts, id);
    const twin = partOf(both.twin.parts, id);
    if (!mine || !twin) return [];
    const heard = ear.hear(mine.sounds, twin.sounds).flatMap((sound) => this.tell(id, sound.symptom, sound.clear));
    if (light === "dark" && !isAxis(mine)) return heard;
    return [...heard, ...glanced(id, eye.see({ mine, twin, light, upright: both.twin.upright }))];
  }

  private stranger(others: readonly FunctionId[]): readonly Notice[] {
    const fresh = others.filter((id) => !this.strange.includes(id));
    if (fresh.length === 0) return [];
    this.strange = [...this.strange, ...fresh];
    return this.strange.length === fresh.length ? this.onWhole("something-else-moved") : [];
  }

  /** Something else moved while this did not: then it moved instead. */
  private thought(id: FunctionId, symptom: SymptomId): readonly Notice[] {
    const instead = symptom === "no-move" && this.strange.length > 0;
    return this.tell(id, instead ? "wrong-thing" : symptom, 2).map((notice) => ({ ...notice, when: "afterwards" }));
  }

  private tell(id: FunctionId, symptom: SymptomId, clear: number): readonly Named[] {
    const name = named(this.build, id, symptom);
    return name ? [{ kind: "symptom", ...name, when: "at once", clear }] : [];
  }

  private onWhole(symptom: SymptomId): readonly Notice[] {
    return [{ kind: "symptom", symptom, function: undefined, when: "at once", clear: 3 }];
  }
}

const partOf = (parts: readonly PartScene[], id: FunctionId): PartScene | undefined =>
  parts.find((part) => part.function === id);

/** A start now; the words for it are found when the step is over. */
const glanced = (id: FunctionId, { there }: Glance): readonly Notice[] =>
  there ? [{ kind: "there", function: id }] : [];
