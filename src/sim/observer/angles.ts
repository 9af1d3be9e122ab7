import type { Degrees } from "../../domain/units.ts";

/** So far out that one thinks of the cable. */
const FAR: Degrees = 120;
const TIMES = 2;

/** Whether something that acts up does so only with the head turned far to one side. */
export class Angles {
  private faulty: readonly Degrees[] = [];
  private goodBetween = false;

  /** Notes that it faltered with pan at this angle. */
  faltered(pan: Degrees): void {
    this.faulty = [...this.faulty, pan];
  }

  /** Notes that it moved well with pan at this angle. */
  moved(pan: Degrees): void {
    if (Math.abs(pan) < FAR) this.goodBetween = true;
  }

  /** It worked well, and not only far out. */
  get clean(): boolean {
    return this.goodBetween && this.faulty.length === 0;
  }

  get onlyThere(): boolean {
    const { faulty } = this;
    const oneSide = faulty.every((pan) => pan > FAR) || faulty.every((pan) => pan < -FAR);
    return faulty.length >= TIMES && oneSide;
  }
}
