import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openTable } from "../../../src/io/store/table.ts";
import { copied, DAMAGES, dice, type Met, metBy, toldBy, wholeJournal } from "../../io/store/damage.ts";
import { type Row, row } from "../line/row.ts";

/** A thousand damaged copies of a journal, each read whole: how many were read the same, refused, or told to be short of their end. */
export const damageBench = async (copies = 1000): Promise<readonly Row[]> => {
  const folder = mkdtempSync(join(tmpdir(), "limber-damage-"));
  try {
    const whole = wholeJournal(join(folder, "whole"), "A");
    const other = wholeJournal(join(folder, "other"), "B");
    const table = openTable(copied(whole, join(folder, "as-it-was")), 1);
    const wanted = toldBy(table);
    table.close();
    const kinds = Object.values(DAMAGES);
    const counts = new Map<string, number>();
    let slowest = 0;
    for (let n = 0; n < copies; n++) {
      const start = performance.now();
      const met = damagedOnce(join(folder, `${n}`), whole, other, kinds[n % kinds.length]!, n, wanted);
      slowest = Math.max(slowest, performance.now() - start);
      counts.set(met, (counts.get(met) ?? 0) + 1);
    }
    return [
      ...[...counts].map(([met, count]) => row(`of ${copies} damaged journals: ${met}`, "", count)),
      row("slowest of them", "ms", slowest),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const damagedOnce = (
  folder: string,
  whole: string,
  other: string,
  damage: (typeof DAMAGES)[string],
  seed: number,
  wanted: string,
): Met => {
  const file = copied(whole, folder);
  damage(file, dice(seed), other);
  const met = metBy(file, wanted);
  rmSync(folder, { recursive: true });
  return met;
};
