import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Rest } from "./rests.ts";

/** So many places one keeps in mind. */
const REMEMBERS = 24;

/** What the observer remembers from step to step: where parts came to rest, which were seen to work well. */
export class Memory {
  private readonly places = new Map<FunctionId, readonly Rest[]>();
  private readonly clean = new Set<FunctionId>();

  rests(id: FunctionId): readonly Rest[] {
    return this.places.get(id) ?? [];
  }

  keep(id: FunctionId, rests: readonly Rest[]): void {
    this.places.set(id, [...this.rests(id), ...rests].slice(-REMEMBERS));
  }

  /** It worked well with the head turned to the front. */
  workedWell(id: FunctionId): void {
    this.clean.add(id);
  }

  hasWorkedWell(id: FunctionId): boolean {
    return this.clean.has(id);
  }
}
