import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { type People, parseShop } from "../../data/shop/shop.ts";
import type { Case } from "../../diagnosis/model/case.ts";
import { learn, wholeTrade } from "../../diagnosis/model/learn.ts";
import { type Learned, NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { readingProfiles } from "../../run/events/digest.ts";
import type { Journal } from "../../run/ports.ts";
import { historyOf } from "../../run/release/history.ts";
import { everFitted } from "../../run/release/release-status.ts";
import { type LevelOffer, levelOffers } from "../../run/release/still-due.ts";
import { load } from "./data.ts";

/**
 * The shop file beside a journal, when there is one: its roles hold for whoever works with this
 * journal. Else the one that was named.
 */
const shopFor = (journal: string, named: string): string => {
  const beside = join(dirname(journal), "shop.yaml");
  return existsSync(beside) ? beside : named;
};

/** Who may do what with this journal. A broken shop file is refused. */
export const peopleFor = (journal: string): Result<People> => {
  const shop = load(fileLibrary(), "shops", shopFor(journal, "shop"), parseShop);
  return shop.ok ? good(shop.value.value.people) : shop;
};

/**
 * At which levels of this shop a fixture could be released now, the full check first; or what is wrong with the shop file.
 * `file` is the journal's, beside which a shop file may stand; `named` is the one to take where none does.
 */
export const offersFor = async (
  journal: Journal,
  serial: string,
  file: string,
  named: string,
): Promise<Result<readonly LevelOffer[]>> => {
  const shop = load(fileLibrary(), "shops", shopFor(file, named), parseShop);
  if (!shop.ok) return shop;
  const history = historyOf(await journal.past(serial), serial);
  const fitted = everFitted(history, readingProfiles());
  if (!fitted) return bad(problem(serial, "has no run whose profile can be read"));
  return good(levelOffers(shop.value.value.levels, history, fitted, new Date().toISOString()));
};

/** What this shop's own finds have taught, calculated again from all of its cases every time. */
export const shopHistory = async (
  journal: Journal,
): Promise<{ readonly learned: Learned; readonly cases: readonly Case[] }> => {
  const cases = await journal.cases();
  return { cases, learned: cases.length === 0 ? NOTHING_LEARNED : learn(wholeTrade(), cases) };
};
