import type { FunctionId } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";
import type { Comparison, PartScene } from "../scene.ts";
import { isAxis, keenOn } from "./keen.ts";

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
    const told = scene.parts.filter(isAxis).flatMap((part) => this.lame(part));
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
