import type { Link, WeighedEffect, WeighedFault } from "./absorb.ts";

/** A table over sets of present symptoms: entry s is the weight of "exactly the symptoms in s are switched on so far". */
export type SubsetTable = Float64Array;

/** A table after a fault that is there or not, by its weights. */
export const advance = (table: SubsetTable, fault: WeighedFault): SubsetTable =>
  blend(fault.without, table, fault.with, happen(table, fault, push));

/** The fault is there: each of its effects or not, and one of its ways. What it does to a table, or on the way back. */
export function happen(table: SubsetTable, { effects, ways, elsewhere }: WeighedFault, turn: TableTurn): SubsetTable {
  const all = (before: SubsetTable, some: readonly WeighedEffect[]) =>
    some.reduce<SubsetTable>((now, effect) => mayHappen(now, effect, turn), before);
  const own = all(table, effects);
  if (ways.length === 0) return own;
  const sum = own.map((weight) => weight * elsewhere);
  for (const way of ways) {
    const after = all(own, way.effects);
    for (let s = 0; s < sum.length; s++) sum[s] = (sum[s] ?? 0) + way.weight * (after[s] ?? 0);
  }
  return sum;
}

const mayHappen = (before: SubsetTable, { on, off, links }: WeighedEffect, turn: TableTurn): SubsetTable =>
  blend(off, before, on, turn(before.slice(), links));

type TableTurn = (table: SubsetTable, links: readonly Link[]) => SubsetTable;

/** Switches symptoms on: what was without the bit goes over to "with" by the link. In place. */
export function push(table: SubsetTable, links: readonly Link[]): SubsetTable {
  for (const { bit, probability } of links) {
    const step = 1 << bit;
    const stay = 1 - probability;
    for (let block = 0; block < table.length; block += 2 * step)
      for (let s = block; s < block + step; s++) {
        const weight = table[s] ?? 0;
        table[s + step] = (table[s + step] ?? 0) + weight * probability;
        table[s] = weight * stay;
      }
  }
  return table;
}

/** The transpose of `push`, for the way back. In place. */
export function pull(table: SubsetTable, links: readonly Link[]): SubsetTable {
  for (const { bit, probability } of links) {
    const step = 1 << bit;
    const stay = 1 - probability;
    for (let block = 0; block < table.length; block += 2 * step)
      for (let s = block; s < block + step; s++)
        table[s] = (table[s] ?? 0) * stay + (table[s + step] ?? 0) * probability;
  }
  return table;
}

/** Two tables added, each by its weight: `a` of `one` and `b` of `other`, both from 0. */
export function blend(a: number, one: SubsetTable, b: number, other: SubsetTable): SubsetTable {
  const blended = new Float64Array(one.length);
  for (let s = 0; s < blended.length; s++) blended[s] = a * (one[s] ?? 0) + b * (other[s] ?? 0);
  return blended;
}

/** Folds the products in halves: adding thousands of them one after another would cost digits. */
export function dot(a: SubsetTable, b: SubsetTable): number {
  const products = new Float64Array(a.length);
  for (let s = 0; s < products.length; s++) products[s] = (a[s] ?? 0) * (b[s] ?? 0);
  for (let half = products.length / 2; half >= 1; half /= 2)
    for (let s = 0; s < half; s++) products[s] = (products[s] ?? 0) + (products[s + half] ?? 0);
  return products[0] ?? 0;
}
