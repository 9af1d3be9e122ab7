import { andThen, stay, withEffects } from "../machine/running.ts";
import { begin } from "../session/beginning.ts";
import type { Batch } from "./batch.ts";
import { forEach, onToNext, type RackChange, write } from "./change.ts";
import { takesPart } from "./order.ts";

/**
 * The rack's run and every fixture's own are opened in the journal, and all lines are asked for. Taken up again when nobody
 * has anything left to do it needs no line, and only ends.
 */
export const beginRack = (batch: Batch): RackChange => {
  const opened = batch.record.opened ? stay(batch) : write(batch, batch.plan.opening);
  const here = batch.members.flatMap((member, index) => (takesPart(member) ? [index] : []));
  const universes = [...new Set(here.map((index) => batch.members[index]?.spot.universe ?? 1))];
  const watching: RackChange = andThen(opened, (b) => stay({ ...b, signs: [b.now] }));
  return andThen(
    andThen(watching, (b) => forEach(b, here, begin)),
    (b) => (universes.length === 0 ? onToNext(b) : openLines(b, universes)),
  );
};

const openLines = (batch: Batch, universes: readonly number[]): RackChange =>
  withEffects(
    { ...batch, stage: { kind: "opening", waiting: universes } },
    ...universes.map(
      (universe) =>
        ({ kind: "open-line", universe, patience: "once", known: batch.record.interfaces.get(universe) }) as const,
    ),
  );
