import type { Milliseconds } from "../domain/units.ts";
import {
  type Attention,
  type Freshness,
  HELD_MS,
  heard,
  isAnswer,
  isListening,
  NOTHING_SHOWN,
  shownAt,
} from "../run/batch/guarded.ts";

/** Stands before a screen's answers: keeps what has been shown since when, and lets only fresh keys settle a question. */
export class Keeper {
  private attention: Attention = NOTHING_SHOWN;
  private came: Freshness = "fresh";

  /** Notes what was drawn and what it asks. `at` is when, in milliseconds by the clock of the keys. */
  shown(question: string | undefined, at: Milliseconds): void {
    if (question !== this.attention.question) this.came = "fresh";
    this.attention = shownAt(this.attention, question, at);
  }

  /** Whether a key would answer now. `at` is now, in milliseconds by the clock of the keys. */
  listening(at: Milliseconds): boolean {
    return isListening(this.attention, at);
  }

  /**
   * Why the last key did not answer; undefined where it did, and once it can be pressed again. `at` is now, in
   * milliseconds by the clock of the keys.
   */
  refused(at: Milliseconds): Exclude<Freshness, "fresh"> | undefined {
    const pressedAt = this.attention.key?.at ?? Number.NEGATIVE_INFINITY;
    return this.came === "fresh" || at - pressedAt >= HELD_MS ? undefined : this.came;
  }

  /**
   * Takes in a key before what it says is passed on, and says whether it may answer; every key, in the order in which they
   * come. `at` is when it came, in milliseconds by the clock of the keys.
   */
  key(name: string, at: Milliseconds): Freshness {
    const [attention, came] = heard(this.attention, name, at);
    this.attention = attention;
    return came;
  }

  /**
   * What of a key's inputs is passed on. While something moves nothing waits to be read, but a held key still counts once;
   * where it is worked to and fro keys may repeat.
   */
  passed<Said extends { readonly kind: string }>(
    inputs: readonly Said[],
    came: Freshness,
    during: "a question" | "a movement" | "to and fro",
  ): readonly (Said | { readonly kind: "here" })[] {
    const counts = came === "fresh" || during === "to and fro" || (during === "a movement" && came === "too soon");
    const dropped = counts ? [] : inputs.filter(isAnswer);
    this.came = dropped.length > 0 ? came : "fresh";
    return inputs.map((input) => (dropped.includes(input) ? { kind: "here" } : input));
  }
}
