import type { Case } from "../faults/case.ts";
import { learn } from "../faults/learn.ts";
import { type Learned, NOTHING_LEARNED } from "../faults/shop.ts";
import { wholeTrade } from "../faults/whole-trade.ts";
import type { Journal } from "../ports.ts";

/** What this shop's own finds have taught, reckoned anew from all of its cases every time. */
export const shopHistory = async (
  journal: Journal,
): Promise<{ readonly learned: Learned; readonly cases: readonly Case[] }> => {
  const cases = await journal.cases();
  return { cases, learned: cases.length === 0 ? NOTHING_LEARNED : learn(wholeTrade(), cases) };
};
