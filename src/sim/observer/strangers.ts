import type { FunctionId } from "../../domain/trade/functions.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import type { Comparison, PartScene } from "../scene.ts";
import { isAxis } from "./keen.ts";

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
export class Strangers {
  private readonly trails = new Map<FunctionId, Trail>();

  /** The functions that move in this frame although nobody asked for them and the sound twin's stand still. */
  see({ scene, twin }: Comparison, watched: readonly FunctionId[], light: "lit" | "dark"): readonly FunctionId[] {
    const ready = scene.phase === "ready" && twin.phase === "ready";
    return scene.parts.flatMap((part, n) => {
      const moved = this.follow(part, twin.parts[n]?.at ?? 0, ready);
      const plain = part.kind !== "turn" && part.kind !== "light" && !part.function.startsWith("Shutter");
      const visible = isAxis(part) || light === "lit";
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
  if (part.kind === "travel") return isAxis(part) ? AXIS_DEG / part.span : 0.25;
  return part.kind === "wheel" ? 0.8 / part.places : 0.5;
};
