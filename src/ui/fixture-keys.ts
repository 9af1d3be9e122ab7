import type { Batch } from "../run/batch/batch.ts";
import { type KeyPlan, keyWords } from "./key-plan.ts";
import type { Desk } from "./sight.ts";

/** Under the fingers of two hands first. */
const LETTERS = "dfgjklertuiopcvbnmhqyxz";

/** How many fixtures are on one page of the rack, at most. */
export const ON_A_PAGE = 12;

/**
 * The letters of this bench that a fixture may have: neither a button nor a letter that means something else at a rack.
 */
const lettersFor = (plan: KeyPlan): readonly string[] => {
  const { away, person, undo } = plan.letters;
  const taken = [...plan.press, ...plan.again, ...plan.stop, away, person, undo, plan.own["go-on"]];
  return [...LETTERS].filter((letter) => !taken.some((key) => key.toLowerCase() === letter));
};

/**
 * A fixture's letter, by its place in the rack from 0: it keeps it for the whole run, on every page. In a rack of more
 * fixtures than there are letters those that share one have a number behind it ("D2"), and never move together.
 */
export const letterOf = (index: number, plan: KeyPlan): { readonly key: string; readonly label: string } => {
  const free = lettersFor(plan);
  const key = free[index % free.length] ?? "";
  const round = Math.floor(index / free.length);
  return { key, label: `${keyWords(key)}${round === 0 ? "" : round + 1}` };
};

/**
 * The key of every fixture that can be pressed for now, with its index in the rack, from 0. `page` is
 * how many pages were leafed on, from 0.
 */
export const fixtureKeys = (batch: Batch, { page }: Pick<Desk, "page">, plan: KeyPlan): ReadonlyMap<number, string> => {
  const keys = new Map<string, number>();
  // Whoever moves comes first: of two that share a letter the one that waits has none for now.
  for (const index of [...movingOf(batch), ...withKeys(batch, page)]) {
    const { key } = letterOf(index, plan);
    if (key !== "" && !keys.has(key)) keys.set(key, index);
  }
  const live = new Set(withKeys(batch, page));
  return new Map([...keys].flatMap(([key, index]) => (live.has(index) ? [[index, key] as const] : [])));
};

/**
 * Which keys lead to a fixture from here, one after the other: its letter, and before it TAB for each page that is leafed
 * on. For whoever chooses from one list of all, and for every fixture with its index in the rack, from 0.
 */
export const waysToFixtures = (batch: Batch, { page }: Pick<Desk, "page">, plan: KeyPlan) => {
  const ways = new Map<number, readonly string[]>();
  const { pages } = openPage(leafingOf(batch, page), batch.members.length, ON_A_PAGE);
  for (let leafed = 0; leafed < pages; leafed += 1)
    for (const [index, key] of fixtureKeys(batch, { page: page + leafed }, plan))
      if (!ways.has(index)) ways.set(index, [...Array.from({ length: leafed }, () => "tab"), key]);
  return ways;
};

/** The fixture that a key names now, as its index in the rack, from 0; undefined where it names none. */
export const fixtureAt = (batch: Batch, desk: Desk, key: string, plan: KeyPlan): number | undefined =>
  [...fixtureKeys(batch, desk, plan)].find(([, letter]) => letter === key.toLowerCase())?.[0];

/** Those that move, or moved when something was pressed. Where it is asked who moved, the one that should have is one of all. */
const movingOf = ({ stage, plan }: Batch): readonly number[] => {
  if (stage.kind === "which") return plan.asks === "who-moved" ? [] : stage.next.members;
  return stage.kind === "moving" || stage.kind === "slow-start" ? stage.next.members : [];
};

/** While a pass is watched every fixture of it keeps its key; in a break each on the page that lies open has one. */
const withKeys = (batch: Batch, leafed: number): readonly number[] => {
  const { stage } = batch;
  if (stage.kind === "paused" || (stage.kind === "which" && batch.plan.asks === "who-moved"))
    return openPage(leafingOf(batch, leafed), batch.members.length, ON_A_PAGE).shown;
  if (stage.kind === "confirming") return stage.members;
  return stage.kind === "moving" || stage.kind === "which" ? passOf(batch) : [];
};

/** All that belong to the pass, also those who wait for their turn. */
const passOf = ({ plan, pass }: Batch): readonly number[] => [
  ...new Set(plan.turns.flatMap((turn) => (turn.pass === pass ? turn.members : []))),
];

/** How a list of fixtures is leafed through. */
export interface Leafing {
  /**
   * Rows that are on every page, because they move or are asked about: places in the list, from 0. Where they leave no
   * room for others they come first, and the others on pages after them.
   */
  readonly always: readonly number[];
  /** The place of the row whose page opens first, from 0. */
  readonly first: number;
  /** How many pages were leafed on, from 0. */
  readonly leafed: number;
}

/** Which rows of a list lie open, and which page of how many that is, from 1. */
export interface OpenRows {
  readonly shown: readonly number[];
  readonly page: number;
  readonly pages: number;
}

/**
 * How the rows of a rack are leafed through: whatever moves or is asked about is on every page. `leafed` is how many
 * pages were leafed on, from 0.
 */
export const leafingOf = (batch: Batch, leafed: number): Leafing => ({
  always: batch.stage.kind === "confirming" ? batch.stage.members : movingOf(batch),
  first: focusOf(batch),
  leafed,
});

/**
 * The page that lies open of a list of `count` rows, of which a page has room for `most`. Leafing on brings every row to
 * the screen, and after the last page the first.
 */
export const openPage = ({ always, first, leafed }: Leafing, count: number, most: number): OpenRows => {
  const all = Array.from({ length: count }, (_, index) => index);
  if (count <= most) return { shown: all, page: 1, pages: 1 };
  const others = all.filter((index) => !always.includes(index));
  const staying = always.length < most ? always : [];
  const paged = staying.length === always.length ? others : [...always, ...others];
  const each = Math.max(1, most - staying.length);
  const pages = Math.max(1, Math.ceil(paged.length / each));
  const opening = paged === others ? Math.floor(others.filter((index) => index < first).length / each) : 0;
  const page = (opening + leafed) % pages;
  const shown = new Set([...staying, ...paged.slice(page * each, (page + 1) * each)]);
  return { shown: all.filter((index) => shown.has(index)), page: page + 1, pages };
};

const focusOf = ({ stage }: Batch): number => {
  if ("next" in stage) return stage.next.members[0] ?? 0;
  if ("member" in stage) return stage.member;
  if (stage.kind === "confirming") return stage.members[0] ?? 0;
  return stage.kind === "between" ? (stage.odd[0] ?? 0) : 0;
};
