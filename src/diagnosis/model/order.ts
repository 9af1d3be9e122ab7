import type { Probability } from "../../domain/units.ts";

/** Something to look at: how likely the fault is there, how many minutes the look takes, behind which cover. */
export interface Look {
  readonly id: string;
  readonly probability: Probability;
  readonly minutes: number;
  readonly cover: string;
}

/** A cover with the minutes its opening takes, there and back; 0 for what is open already. */
export type Opening = (cover: string) => number;

/**
 * The order of looks that finds a single fault in the fewest expected minutes: descending probability per minute, where
 * the opening of a cover is paid with the best run of looks behind it (Heckerman, Breese and Rommelse 1995; Sidney 1975).
 */
export const bestOrder = (looks: readonly Look[], opening: Opening): readonly Look[] =>
  blocksOf(looks, opening).flatMap((block) => block.looks);

/**
 * Expected minutes to the fault in this order, each opening paid when it is first needed; looks are taken to be certain.
 * There may be no fault at all (`imagined`: the weight of that), and one may give up at any point, at the price of a fault
 * that goes out again (`missed`, minutes). Weights need not add up to 1.
 */
export function expectedMinutesOrGivingUp(
  order: readonly Look[],
  opening: Opening,
  { imagined, missed }: { readonly imagined: number; readonly missed: number },
): number {
  const open = new Set<string>();
  const steps = order.map(({ probability, minutes, cover }) => {
    const cost = minutes + (open.has(cover) ? 0 : opening(cover));
    open.add(cover);
    return { probability, cost };
  });
  let left = 0;
  let minutes = 0;
  for (const { probability, cost } of steps.reverse()) {
    left += probability;
    minutes = Math.min(left * missed, (left + imagined) * cost + minutes);
  }
  return minutes;
}

/** Looks that are best done in one go. */
interface Block {
  readonly looks: readonly Look[];
  readonly probability: number;
  readonly minutes: number;
}

const blocksOf = (looks: readonly Look[], opening: Opening): readonly Block[] => {
  const covers = [...new Set(looks.map(({ cover }) => cover))];
  return covers
    .flatMap((cover) =>
      behind(
        looks.filter((look) => look.cover === cover),
        opening(cover),
      ),
    )
    .sort((a, b) => worth(b) - worth(a));
};

/** Of one cover: first the run of looks that pays for the opening best, then the rest one by one. */
function behind(looks: readonly Look[], opening: number): readonly Block[] {
  const sorted = looks.map((look) => together([look], 0)).sort((a, b) => worth(b) - worth(a));
  const ordered = sorted.flatMap((block) => block.looks);
  const runs = ordered.map((_, i) => together(ordered.slice(0, i + 1), opening));
  const first = runs.reduce((best, run) => (worth(run) > worth(best) ? run : best), runs[0] ?? together([], opening));
  return [first, ...sorted.slice(first.looks.length)];
}

const together = (looks: readonly Look[], opening: number): Block => ({
  looks,
  probability: looks.reduce((sum, { probability }) => sum + probability, 0),
  minutes: looks.reduce((sum, { minutes }) => sum + minutes, opening),
});

const worth = ({ probability, minutes }: Block): number => probability / minutes;
