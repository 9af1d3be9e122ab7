import type { Case } from "../faults/case.ts";
import { learn } from "../faults/learn.ts";
import { networkFor } from "../faults/network.ts";
import { type Learned, NOTHING_LEARNED } from "../faults/shop.ts";
import type { Journal } from "../ports.ts";
import { parseProfile } from "../profile/parse.ts";
import { casesOf, type KnownRun } from "../record/cases.ts";
import { FUNCTIONS, type FunctionId } from "../trade/functions.ts";
import { MECHANISM_IDS } from "../trade/mechanisms.ts";
import { type RunEntry, runsIn } from "./runs.ts";

/** What this shop's own finds have taught, replayed from the whole journal every time. */
export const shopHistory = async (
  journal: Journal,
): Promise<{ readonly learned: Learned; readonly cases: readonly Case[] }> => {
  const cases = casesOf((await runsIn(journal)).flatMap(knownRun));
  return { cases, learned: cases.length === 0 ? NOTHING_LEARNED : learn(networkFor(EVERYTHING), cases) };
};

const knownRun = ({ run, view }: RunEntry): readonly KnownRun[] => {
  const profile = view.opened ? parseProfile(view.opened.profile.name, view.opened.profile.text) : undefined;
  return profile?.ok ? [{ run, view, profile: profile.value }] : [];
};

/** A fixture that has every mechanism: what one kind of fixture teaches about a mechanism counts for the others. */
const EVERYTHING = MECHANISM_IDS.map((mechanism) => ({
  mechanism,
  function: (Object.keys(FUNCTIONS) as FunctionId[]).find((id) => FUNCTIONS[id].mechanism === mechanism) ?? "Pan",
}));
