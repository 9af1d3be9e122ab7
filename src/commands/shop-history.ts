import type { Case } from "../faults/case.ts";
import { learn } from "../faults/learn.ts";
import { networkFor } from "../faults/network.ts";
import { type Learned, NOTHING_LEARNED } from "../faults/shop.ts";
import type { Journal } from "../ports.ts";
import { FUNCTIONS, type FunctionId } from "../trade/functions.ts";
import { MECHANISM_IDS } from "../trade/mechanisms.ts";

/** What this shop's own finds have taught, reckoned anew from all of its cases every time. */
export const shopHistory = async (
  journal: Journal,
): Promise<{ readonly learned: Learned; readonly cases: readonly Case[] }> => {
  const cases = await journal.cases();
  return { cases, learned: cases.length === 0 ? NOTHING_LEARNED : learn(networkFor(EVERYTHING), cases) };
};

/** A fixture that has every mechanism: what one kind of fixture teaches about a mechanism counts for the others. */
const EVERYTHING = MECHANISM_IDS.map((mechanism) => ({
  mechanism,
  function: (Object.keys(FUNCTIONS) as FunctionId[]).find((id) => FUNCTIONS[id].mechanism === mechanism) ?? "Pan",
}));
