import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { PartBuild } from "../build.ts";
import type { Comparison } from "../scene.ts";
import { Angles } from "./angles.ts";
import { Ear, type HeardSound } from "./ear.ts";
import { isAxis } from "./keen.ts";
import { LeafEye } from "./leaf-eye.ts";
import type { Memory } from "./memory.ts";
import { MoverEye } from "./mover-eye.ts";

const MOVES = 0.05;

/** Eye and ear on one function for the length of a step. */
export class PartWatch {
  private readonly eye: MoverEye | LeafEye;
  private readonly ear = new Ear();
  private readonly angles = new Angles();
  private readonly build: PartBuild;
  private readonly memory: Memory;

  constructor(build: PartBuild, memory: Memory) {
    this.build = build;
    this.memory = memory;
    this.eye = build.kind === "bands" ? new LeafEye() : new MoverEye(memory.rests(build.function));
  }

  /** What is heard in this frame, and whether something is seen; inside the head nothing is seen without light. */
  see(
    { scene, twin }: Comparison,
    light: "lit" | "dark",
  ): { readonly heard: readonly HeardSound[]; readonly there: boolean } {
    const mine = scene.parts.find((part) => part.function === this.build.function);
    const own = twin.parts.find((part) => part.function === this.build.function);
    if (!mine || !own) return { heard: [], there: false };
    const heard = this.ear.hear(mine.sounds, own.sounds);
    const visible = light === "lit" || isAxis(mine);
    const there = visible && this.eye.see({ mine, twin: own, light, upright: twin.upright }).there;
    if (there || heard.length > 0) this.angles.faltered(twin.pan_deg);
    else if (Math.abs(own.speed) > MOVES) this.angles.moved(twin.pan_deg);
    return { heard, there };
  }

  /** Ends the step and says what was noticed of the part in all of it. */
  settle(): readonly SymptomId[] {
    const { function: id } = this.build;
    const seen = this.eye.settle();
    if (this.eye instanceof MoverEye) this.memory.keep(id, this.eye.places);
    const onlyThere = id !== "Pan" && this.angles.onlyThere && this.memory.hasWorkedWell(id);
    if (seen.length === 0 && this.angles.clean) this.memory.workedWell(id);
    return onlyThere ? [...seen, "at-angle"] : seen;
  }
}
