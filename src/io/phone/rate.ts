/** How often somebody may come: `atOnce` times at once, and `perSecond` times a second after that (a token bucket). */
export interface Allowance {
  readonly atOnce: number;
  readonly perSecond: number;
}

/** Counts for everybody by a name of their own; whoever has been quiet long enough is forgotten. */
export class RateLimit {
  private readonly allowance: Allowance;
  private readonly now: () => number;
  private readonly spent = new Map<string, { count: number; at: number }>();

  constructor(allowance: Allowance, now: () => number) {
    this.allowance = allowance;
    this.now = now;
  }

  /** Whether somebody may come once more now; it is counted if so. */
  allows(who: string): boolean {
    const { atOnce, perSecond } = this.allowance;
    const now = this.now();
    if (this.spent.size > MOST_KNOWN) this.forget(now);
    const before = this.spent.get(who) ?? { count: 0, at: now };
    const count = Math.max(0, before.count - ((now - before.at) / 1000) * perSecond);
    const isAllowed = count + 1 <= atOnce;
    this.spent.set(who, { count: isAllowed ? count + 1 : count, at: now });
    return isAllowed;
  }

  private forget(now: number): void {
    const { atOnce, perSecond } = this.allowance;
    for (const [who, { at }] of this.spent) if (now - at > (atOnce / perSecond) * 1000) this.spent.delete(who);
  }
}

const MOST_KNOWN = 200;
