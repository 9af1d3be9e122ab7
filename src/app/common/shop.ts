import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { type People, parseShop } from "../../data/shop/shop.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { load } from "./data.ts";

/**
 * The shop file beside a journal, when there is one: its roles hold for whoever works with this
 * journal. Else the one that was named.
 */
export const shopFor = (journal: string, named: string): string => {
  const beside = join(dirname(journal), "shop.yaml");
  return existsSync(beside) ? beside : named;
};

/** Who may do what with this journal. A broken shop file is refused. */
export const peopleFor = (journal: string, named = "shop"): Result<People> => {
  const shop = load(fileLibrary(), "shops", shopFor(journal, named), parseShop);
  return shop.ok ? good(shop.value.value.people) : shop;
};
