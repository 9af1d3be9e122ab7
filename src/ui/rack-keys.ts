import type { Batch } from "../run/batch/batch.ts";
import type { KeyPlan } from "./key-plan.ts";

/** Under the fingers of two hands first. */
const LETTERS = "dfgjklertuiopcvbnmhqyxz";

/** So many fixtures stand on one page of the rack. */
export const ON_A_PAGE = 12;

/** The key of every fixture that can be pressed for now, by its place in the rack; the buttons of the bench and the letters for a break come first. */
export const fixtureKeys = (batch: Batch, leafed: number, plan: KeyPlan): ReadonlyMap<number, string> => {
  const { away, person } = plan.letters;
  const taken = [...plan.press, ...plan.again, ...plan.stop, away, person, plan.own["go-on"]];
  const free = [...LETTERS].filter((letter) => !taken.some((key) => key.toLowerCase() === letter));
  return new Map(withKeys(batch, leafed).flatMap((index, at) => (free[at] === undefined ? [] : [[index, free[at]]])));
};

/** While a pass is watched every fixture of it keeps its key; in a break each on the page that lies open has one. */
const withKeys = (batch: Batch, leafed: number): readonly number[] => {
  const { stage } = batch;
  if (stage.kind === "paused" || (stage.kind === "which" && batch.plan.asks === "who-moved"))
    return pageOfRack(batch, leafed);
  return stage.kind === "moving" || stage.kind === "which" ? passOf(batch) : [];
};

/** All that belong to the pass, also those who wait for their turn. */
const passOf = ({ plan, pass }: Batch): readonly number[] => [
  ...new Set(plan.turns.flatMap((turn) => (turn.pass === pass ? turn.members : []))),
];

/** The page that was leafed to; while something moves, from the one where it moves. */
export const pageOfRack = (batch: Batch, leafed: number): readonly number[] => {
  const pages = Math.ceil(batch.members.length / ON_A_PAGE);
  const page = (Math.floor(focusOf(batch) / ON_A_PAGE) + leafed) % pages;
  const all = [...batch.members.keys()];
  return all.slice(page * ON_A_PAGE, (page + 1) * ON_A_PAGE);
};

export const pagesOfRack = ({ members }: Batch): number => Math.ceil(members.length / ON_A_PAGE);

const focusOf = ({ stage }: Batch): number => {
  if ("next" in stage) return stage.next.members[0] ?? 0;
  if ("member" in stage) return stage.member;
  if (stage.kind === "confirming") return stage.members[0] ?? 0;
  return stage.kind === "between" ? (stage.odd[0] ?? 0) : 0;
};
