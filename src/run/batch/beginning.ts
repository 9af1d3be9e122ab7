import { andThen, stay, withEffects } from "../machine/running.ts";
import { begin } from "../session/beginning.ts";

import type { Batch } from "./batch.ts";
import { forEach, type RackChange, write } from "./change.ts";
import { takesPart } from "./order.ts";

/** The rack's run and every fixture's own are opened in the journal, and all lines are asked for. */
export const beginRack = (batch: Batch): RackChange => {
  const opened = batch.record.opened ? stay(batch) : write(batch, batch.plan.opening);
  const here = batch.members.flatMap((member, index) => (takesPart(member) ? [index] : []));
  const universes = [...new Set(here.map((index) => batch.members[index]?.spot.universe ?? 1))];
  const watching: RackChange = andThen(opened, (b) => stay({ ...b, signs: [b.now] }));
  return andThen(
    andThen(watching, (b) => forEach(b, here, begin)),
    (b) =>
      withEffects(
        { ...b, stage: { kind: "opening", waiting: universes } },
        ...universes.map(
          (universe) =>
            ({ kind: "open-line", universe, patience: "once", known: b.record.interfaces.get(universe) }) as const,
        ),
      ),
  );
};
