import { cutOff, lineBack } from "../machine/interrupting.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";

import type { Timed } from "../session/input.ts";
import { type Batch, memberAt, type RackNext, type RackStage } from "./batch.ts";
import { forEach, onToNext, type RackChange, write } from "./change.ts";
import { endRack } from "./ending.ts";
import type { RackInput } from "./input.ts";
import { leavingUnnamed } from "./seen.ts";
import { notWatched } from "./silence.ts";

type Lost = { readonly universe: number; readonly words: string };

/** Stops those whose line is gone, and nobody else; the line is tried again by itself until it is back. */
export const universeLost = (batch: Batch, lost: Lost): RackChange => {
  const { stage } = batch;
  const without: Batch = { ...batch, trouble: lost.words, lost: [...new Set([...batch.lost, lost.universe])] };
  if (stage.kind === "finished") return stay(without);
  if (stage.kind === "opening") return answeredAtStart(retrying(without, lost), lost.universe);
  const noted = andThen(write(without, courseOf("line-lost", lost)), (b) => retrying(b, lost));
  // It came back and went again before anybody agreed.
  if (stage.kind === "line-lost" && stage.universe === lost.universe)
    return andThen(noted, (b) => cutOff(b, { ...stage, words: lost.words, back: false }, lost));
  const next = movingOf(batch);
  if (!next?.members.some((index) => memberAt(batch, index).spot.universe === lost.universe)) return noted;
  return andThen(noted, (b) =>
    leavingUnnamed(b, (left) => cutOff(left, { kind: "line-lost", ...lost, back: false, next }, lost)),
  );
};

const retrying = (batch: Batch, { universe }: Lost): RackChange =>
  withEffects(batch, {
    kind: "open-line",
    universe,
    patience: "until-open",
    known: batch.record.interfaces.get(universe),
  });

const courseOf = (what: "line-lost" | "line-back" | "went-on-without", { universe, words }: Lost) =>
  ({ kind: "rack-course", what, detail: `universe ${universe}${words === "" ? "" : `: ${words}`}` }) as const;

/** Those who move just now, whose line it may be. */
const movingOf = ({ stage }: Batch): RackNext | undefined =>
  stage.kind === "moving" || stage.kind === "slow-start" ? stage.next : undefined;

/**
 * Goes on when a universe's line can be used: at the start the run begins, after a loss a person has to agree
 * first. `universe` is its number, from 1.
 */
export const universeOpen = (batch: Batch, universe: number): RackChange => {
  const { stage } = batch;
  if (stage.kind === "finished") return stay(batch);
  const left = batch.lost.filter((one) => one !== universe);
  const open: Batch = { ...batch, lost: left, trouble: left.length > 0 ? batch.trouble : undefined };
  if (stage.kind === "opening") return answeredAtStart(stay(open), universe);
  if (!batch.lost.includes(universe)) return stay(open);
  return andThen(write(open, courseOf("line-back", { universe, words: "" })), (b) =>
    stage.kind === "line-lost" && stage.universe === universe ? lineBack(b, stage, universe) : stay(b),
  );
};

/**
 * Begins the run when every line has answered, with those that can be used; with none of them it cannot begin. `universe`
 * is the number of the one that answered, from 1.
 */
export const answeredAtStart = (change: RackChange, universe: number): RackChange =>
  andThen(change, (b) => {
    if (b.stage.kind !== "opening") return stay(b);
    const waiting = b.stage.waiting.filter((one) => one !== universe);
    if (waiting.length > 0) return stay({ ...b, stage: { kind: "opening", waiting } });
    const isCutOff = b.members.every(({ spot }) => b.lost.includes(spot.universe));
    return isCutOff && b.strangers.length === 0 ? endRack(b, "failed") : onToNext(b);
  });

/**
 * Goes on after a lost line. Back: the step begins again, for all. Not back: on without these; what
 * they were just playing was not watched.
 */
export const endUniverseLoss = (
  batch: Batch,
  stage: Extract<RackStage, { kind: "line-lost" }>,
  input: Timed<RackInput>,
): RackChange => {
  if (stage.back && input.kind === "confirm")
    return andThen(write(batch, { kind: "rack-course", what: "went-on", detail: "" }), onToNext);
  if (input.kind !== "decline") return stay(batch);
  const without = batch.members.flatMap(({ spot }, index) => (spot.universe === stage.universe ? [index] : []));
  return andThen(write(batch, courseOf("went-on-without", stage)), (b) =>
    andThen(
      forEach(b, without, (session) => notWatched(session)),
      onToNext,
    ),
  );
};
