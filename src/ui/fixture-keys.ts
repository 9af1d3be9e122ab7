import type { Batch } from "../run/batch/batch.ts";
import { type KeyPlan, keyWords } from "./key-plan.ts";
import type { Desk } from "./sight.ts";

/** Under the fingers of two hands first. */
const LETTERS = "dfgjklertuiopcvbnmhqyxz";

/** How many fixtures are on one page of the rack. */
const ON_A_PAGE = 12;

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

/** The fixture that a key names now, as its index in the rack, from 0; undefined where it names none. */
export const fixtureAt = (batch: Batch, desk: Desk, key: string, plan: KeyPlan): number | undefined =>
  [...fixtureKeys(batch, desk, plan)].find(([, letter]) => letter === key.toLowerCase())?.[0];

const movingOf = ({ stage }: Batch): readonly number[] =>
  stage.kind === "moving" || stage.kind === "which" || stage.kind === "slow-start" ? stage.next.members : [];

/** While a pass is watched every fixture of it keeps its key; in a break each on the page that lies open has one. */
const withKeys = (batch: Batch, leafed: number): readonly number[] => {
  const { stage } = batch;
  if (stage.kind === "paused" || (stage.kind === "which" && batch.plan.asks === "who-moved"))
    return pageOfRack(batch, leafed);
  if (stage.kind === "confirming") return stage.members;
  return stage.kind === "moving" || stage.kind === "which" ? passOf(batch) : [];
};

/** All that belong to the pass, also those who wait for their turn. */
const passOf = ({ plan, pass }: Batch): readonly number[] => [
  ...new Set(plan.turns.flatMap((turn) => (turn.pass === pass ? turn.members : []))),
];

/**
 * The fixtures on the page that lies open, as indices in the rack, from 0. Whatever moves is on it, whichever page lies
 * open. `leafed` is how many pages were leafed on, from 0.
 */
export const pageOfRack = (batch: Batch, leafed: number): readonly number[] => {
  const moving = movingOf(batch);
  const others = leafedTo(batch, leafed).filter((index) => !moving.includes(index));
  return [...moving, ...others.slice(0, Math.max(0, ON_A_PAGE - moving.length))].toSorted((a, b) => a - b);
};

const leafedTo = (batch: Batch, leafed: number): readonly number[] => {
  const page = pageInRack(batch, leafed);
  const all = [...batch.members.keys()];
  return all.slice((page - 1) * ON_A_PAGE, page * ON_A_PAGE);
};

/** Which page lies open, from 1. `leafed` is how many pages were leafed on, from 0. */
export const pageInRack = (batch: Batch, leafed: number): number =>
  ((Math.floor(focusOf(batch) / ON_A_PAGE) + leafed) % pagesOfRack(batch)) + 1;

/** How many pages the rows of a rack take. */
export const pagesOfRack = ({ members }: Batch): number => Math.ceil(members.length / ON_A_PAGE);

const focusOf = ({ stage }: Batch): number => {
  if ("next" in stage) return stage.next.members[0] ?? 0;
  if ("member" in stage) return stage.member;
  if (stage.kind === "confirming") return stage.members[0] ?? 0;
  return stage.kind === "between" ? (stage.odd[0] ?? 0) : 0;
};
