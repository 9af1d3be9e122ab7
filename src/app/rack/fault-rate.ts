import type { Probability } from "../../domain/units.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import type { Journal } from "../../run/ports.ts";

/** How many fixtures show something when they come in, as far as the journal knows. */
export interface FaultRate {
  readonly rate: Probability;
  readonly words: string;
}

/** Starter value, judgement: as if so many fixtures had been seen already, and so many of them had shown something. */
const STARTER = { seen: 10, odd: 1.5 };

/**
 * How often fixtures have a fault, by real runs that came to their end; a simulation says nothing about a shop's fixtures.
 */
export const faultRateIn = async (journal: Journal): Promise<FaultRate> => {
  const runs = (await journal.briefs({ kind: "all" })).filter(
    ({ simulated, ended }) => !simulated && ended === "finished",
  );
  const odd = runs.filter(showsSomething).length;
  const rate = (odd + STARTER.odd) / (runs.length + STARTER.seen);
  const share = `${Math.round(rate * 100)} %`;
  return {
    rate,
    words:
      runs.length === 0
        ? `${share}, a starter value, judgement; the journal has no real run yet`
        : `${share}; ${odd} of ${runs.length} real runs in the journal did`,
  };
};

const showsSomething = ({ steps }: RunSummary): boolean =>
  steps.some(({ result, symptoms }) => result === "fail" || symptoms.length > 0);
