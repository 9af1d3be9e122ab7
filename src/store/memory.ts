import type { Journal } from "../ports.ts";
import { fromRow, type StoredRow, toRow } from "./row.ts";

/** A journal that lasts as long as the program, for simulated runs. It refuses what the journal on disk would refuse. */
export const memoryJournal = (): Journal => {
  const stored = new Map<string, StoredRow & { readonly run: string }>();
  return {
    append: async (event) => {
      const row = toRow(event);
      const there = stored.get(row.id);
      if (there && there.event !== row.event) throw new Error(`Bug: another event has the id ${row.id}`);
      if (!there) stored.set(row.id, { ...row, serial: stored.size + 1 });
    },
    events: async (run) =>
      [...stored.values()].filter((row) => run === undefined || row.run === run).map((row) => fromRow(row, "memory")),
    close: async () => undefined,
  };
};
