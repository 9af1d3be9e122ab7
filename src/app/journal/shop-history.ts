import type { Case } from "../../diagnosis/model/case.ts";
import { learn, wholeTrade } from "../../diagnosis/model/learn.ts";
import { type Learned, NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import type { Journal } from "../../run/ports.ts";

/** What this shop's own finds have taught, calculated again from all of its cases every time. */
export const shopHistory = async (
  journal: Journal,
): Promise<{ readonly learned: Learned; readonly cases: readonly Case[] }> => {
  const cases = await journal.cases();
  return { cases, learned: cases.length === 0 ? NOTHING_LEARNED : learn(wholeTrade(), cases) };
};
