import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { FixtureBuild } from "../build.ts";
import type { Comparison } from "../scene.ts";
import type { WatchedStep } from "./notice.ts";
import { Perception } from "./perception.ts";

/** What there was to be noticed in a step: from which of its frames on, and what it amounted to. */
export interface ShownInStep {
  readonly frames: readonly Frame[];
  readonly symptoms: readonly SymptomId[];
}

/** Somebody who misses nothing and imagines nothing, to tell afterwards what a person could have caught. */
export class AllSeeing {
  private readonly perception: Perception;
  private frame: Frame = 0;
  private frames: Frame[] = [];
  private symptoms = new Set<SymptomId>();
  private watching = false;

  constructor(build: FixtureBuild) {
    this.perception = new Perception(build);
  }

  /** Begins to watch a step: the next frame is its frame 0. */
  begin(step: WatchedStep): void {
    this.frame = -1;
    this.frames = [];
    this.symptoms = new Set();
    this.watching = true;
    this.perception.begin(step);
  }

  /** Watches one frame; frames between steps are to be shown too. */
  see(both: Comparison): void {
    this.frame += 1;
    const notices = this.perception.see(both);
    if (!this.watching) return;
    for (const notice of notices) if (notice.kind === "symptom") this.symptoms.add(notice.symptom);
    if (notices.some((one) => one.kind === "there" || one.when === "at once")) this.frames.push(this.frame);
  }

  /** Ends the step and says in which of its frames something showed, and which symptoms. */
  end(): ShownInStep {
    for (const notice of this.perception.end()) if (notice.kind === "symptom") this.symptoms.add(notice.symptom);
    this.watching = false;
    return { frames: this.frames, symptoms: [...this.symptoms] };
  }
}
