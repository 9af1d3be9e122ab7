import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { FRAMES_PER_SECOND, type Frame } from "../../domain/units.ts";
import { keenOn } from "./keen.ts";
import { type Glance, NOTHING, type Pair, Track } from "./track.ts";

const RESTED: Frame = 8;
const LATE: Frame = 3;
const UNEVEN = 0.2;

/** Watches a blade or an arm that is either in the beam or out of it. */
export class LeafEye {
  private readonly mine = new Track();
  private readonly twin = new Track();
  private noted: readonly SymptomId[] = [];
  private late: Frame = 0;
  private beats: readonly number[] = [];
  private judged = true;

  /** What is noticed of the leaf in this frame, beside a sound twin. */
  see(pair: Pair): Glance {
    const { mine, twin } = pair;
    const keen = keenOn(twin, pair.light);
    const stood = this.twin.still > 0;
    this.mine.add(mine.at, keen.speed);
    this.twin.add(twin.at, keen.speed);
    if (twin.kind === "leaf" && twin.beating) return this.beating(Math.abs(mine.at - twin.at));
    this.beats = [];
    if (this.twin.still === 0 && stood) this.begin();
    if (Math.abs(mine.at - twin.at) > keen.place && this.twin.still > 0) this.late += 1;
    const rested = this.twin.still >= RESTED && (this.mine.still >= RESTED || this.late > 60);
    if (rested && !this.judged) return this.judge(pair, keen.place);
    return this.late === LATE && this.mine.still === 0 ? this.note("slow") : NOTHING;
  }

  /** Ends the step and says what was noticed in it; "slow" is dropped where something else was noticed too. */
  settle(): readonly SymptomId[] {
    return this.noted.length > 1 ? this.noted.filter((symptom) => symptom !== "slow") : this.noted;
  }

  private begin(): void {
    this.judged = false;
    this.late = 0;
  }

  private judge({ mine, twin }: Pair, keen: number): Glance {
    this.judged = true;
    const off = mine.at - twin.at;
    if (Math.abs(off) <= keen) return NOTHING;
    if (Math.abs(off) > 0.85) return this.note(twin.at < 0.5 && isShutter(twin.function) ? "hangs-closed" : "no-move");
    return this.note(isShutter(twin.function) && twin.at > 0.5 ? "leaks-light" : "half-in");
  }

  /** Over a whole second of beats, how much of the time it was on the wrong side. */
  private beating(apart: number): Glance {
    this.judged = true;
    this.beats = [...this.beats, apart].slice(-FRAMES_PER_SECOND);
    const wrong = this.beats.reduce((sum, value) => sum + value, 0) / FRAMES_PER_SECOND;
    if (this.beats.length < FRAMES_PER_SECOND || wrong < UNEVEN) return NOTHING;
    this.beats = [];
    return this.note("uneven-strobe");
  }

  private note(symptom: SymptomId): Glance {
    if (!this.noted.includes(symptom)) this.noted = [...this.noted, symptom];
    return { there: true, symptoms: [symptom] };
  }
}

const isShutter = (id: string): boolean => id.startsWith("Shutter");
