import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Rest } from "./rests.ts";

/** How many places a person keeps in mind. */
const REMEMBERS = 24;

/** What the observer remembers from step to step: where parts came to rest, which were seen to work well. */
export class Memory {
  private readonly places = new Map<FunctionId, readonly Rest[]>();
  private readonly clean = new Set<FunctionId>();

  /** Where a part came to rest in earlier steps, the oldest first. */
  rests(id: FunctionId): readonly Rest[] {
    return this.places.get(id) ?? [];
  }

  /** Remembers where a part came to rest; the oldest places are forgotten. */
  keep(id: FunctionId, rests: readonly Rest[]): void {
    this.places.set(id, [...this.rests(id), ...rests].slice(-REMEMBERS));
  }

  /** Remembers that the function worked well with the head turned to the front. */
  workedWell(id: FunctionId): void {
    this.clean.add(id);
  }

  /** Whether the function was seen to work well with the head turned to the front. */
  hasWorkedWell(id: FunctionId): boolean {
    return this.clean.has(id);
  }
}
