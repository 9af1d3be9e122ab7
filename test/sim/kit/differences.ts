import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import type { Comparison, PartScene, Scene, Sounds } from "../../../src/sim/scene.ts";
import { wrap } from "../../../src/sim/wheel.ts";

/** The largest difference from the twin of each measurable thing: "Tilt place", "Pan knock", "picture veil", "phase" ... */
export class Differences {
  /** By what it is of, then by its kind: words are put together only when asked for, not in every frame. */
  private readonly most = new Map<string, Map<string, number>>();

  see({ scene, twin }: Comparison): void {
    for (const [n, part] of scene.parts.entries()) this.part(part, twin.parts[n] as PartScene);
    this.picture(scene.picture, twin.picture);
    this.note("phase", "", scene.phase === twin.phase ? 0 : 1);
    this.note("display", "", scene.display === twin.display ? 0 : 1);
    this.note("fan", "loud", scene.fan.loud - twin.fan.loud);
    this.note("smell", "", scene.smell - twin.smell);
  }

  of(key: string): number {
    const [of = "", kind = ""] = key.split(" ");
    return this.most.get(of)?.get(kind) ?? 0;
  }

  /** Everything that differs about the parts of functions other than these. */
  besides(functions: readonly FunctionId[]): readonly string[] {
    const own = functions as readonly string[];
    return [...this.most].flatMap(([id, kinds]) =>
      /^[A-Z]/.test(id) && !own.includes(id)
        ? [...kinds].flatMap(([kind, most]) => (most > 1e-4 ? [`${id} ${kind} ${most.toFixed(4)}`] : []))
        : [],
    );
  }

  private part(mine: PartScene, twin: PartScene): void {
    const off = mine.at - twin.at;
    const round = twin.kind === "wheel" || twin.kind === "turn";
    this.note(mine.function, "place", round ? wrap(off) : off);
    this.note(mine.function, "trembles", mine.trembles - twin.trembles);
    if ("patchy" in mine && "patchy" in twin) this.note(mine.function, "patchy", mine.patchy - twin.patchy);
    if (mine.sounds === twin.sounds) return;
    for (const kind of SOUNDS) this.note(mine.function, kind, mine.sounds[kind] - twin.sounds[kind]);
  }

  private picture(mine: Scene["picture"], twin: Scene["picture"]): void {
    for (const key of ["field", "tint", "veil", "shadow", "oval", "leak", "wobble", "soft"] as const)
      this.note("picture", key, mine[key] - twin[key]);
    this.note("picture", "lit", mine.lit === twin.lit ? 0 : 1);
    this.note("picture", "dark", mine.dark.length - twin.dark.length);
  }

  private note(of: string, kind: string, difference: number): void {
    const kinds = this.most.get(of) ?? new Map<string, number>();
    this.most.set(of, kinds);
    kinds.set(kind, Math.max(kinds.get(kind) ?? 0, Math.abs(difference)));
  }
}

const SOUNDS = ["hum", "scrape", "knock", "tick", "whine", "rattle"] as const satisfies readonly (keyof Sounds)[];
