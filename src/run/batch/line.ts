import type { RackInput, Stamped } from "../machine/input.ts";
import { cutOff, lineBack } from "../machine/interrupting.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import { begin } from "../session/line.ts";
import { type Batch, memberAt, type RackNext, type RackStageOf, type StrangeLine } from "./batch.ts";
import { endRack, forEach, onToNext, type RackChange, write } from "./change.ts";
import { takesPart } from "./members.ts";
import { notWatched } from "./silence.ts";
import { leavingUnnamed } from "./which.ts";

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

type LostLine = { readonly universe: number; readonly words: string };

/** Stops those whose line is gone, and nobody else; the line is tried again by itself until it is back. */
export const universeLost = (batch: Batch, lost: LostLine): RackChange => {
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

const retrying = (batch: Batch, { universe }: LostLine): RackChange =>
  withEffects(batch, {
    kind: "open-line",
    universe,
    patience: "until-open",
    known: batch.record.interfaces.get(universe),
  });

const courseOf = (what: "line-lost" | "line-back" | "went-on-without", { universe, words }: LostLine) =>
  ({ kind: "rack-course", what, detail: `universe ${universe}${words === "" ? "" : `: ${words}`}` }) as const;

/** Those who move just now, whose line it may be. */
const movingOf = ({ stage }: Batch): RackNext | undefined =>
  stage.kind === "moving" || stage.kind === "slow-start" ? stage.next : undefined;

/**
 * Goes on when a universe's line can be used: at the start the run begins, after a loss a person has to agree
 * first. `universe` is its number, from 1.
 */
export const universeOpen = (batch: Batch, { universe }: Pick<LostLine, "universe">): RackChange => {
  const { stage } = batch;
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
const answeredAtStart = (change: RackChange, universe: number): RackChange =>
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
export const endUniverseLoss = (batch: Batch, stage: RackStageOf<"line-lost">, input: Stamped): RackChange => {
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

/**
 * Keeps a universe cut off whose interface is another than before, until somebody agrees: asked at once where all wait for
 * it, else before anything moves again.
 */
export const rackStrangerMet = (batch: Batch, { universe, identity, words }: StrangeLine): RackChange => {
  const { stage } = batch;
  const met: Batch = {
    ...batch,
    lost: [...new Set([...batch.lost, universe])],
    strangers: [...batch.strangers.filter((one) => one.universe !== universe), { universe, identity, words }],
    trouble: `Another interface is plugged in for universe ${universe}. ${words}`,
  };
  if (stage.kind === "opening") return answeredAtStart(stay(met), universe);
  return stage.kind === "line-lost" && stage.universe === universe ? onToNext(met) : stay(met);
};

/** Asks, dark and still, whether another interface is the right one for a universe. */
export const askAboutStranger = (batch: Batch, { universe, identity, words }: StrangeLine): RackChange =>
  withEffects(
    { ...uncleared(batch), stage: { kind: "other-interface", universe, identity, words } },
    { kind: "go-dark" },
    { kind: "say", words: `Another interface is plugged in for universe ${universe}.` },
  );

/**
 * Takes the answer about another interface. Agreed: the line is opened to this one and no other. Not agreed: on
 * without the fixtures of that universe.
 */
export const answerStranger = (
  batch: Batch,
  { universe, identity }: RackStageOf<"other-interface">,
  input: RackInput,
): RackChange => {
  if (input.kind !== "confirm" && input.kind !== "decline") return stay(batch);
  const settled: Batch = { ...batch, strangers: batch.strangers.filter((one) => one.universe !== universe) };
  if (input.kind === "confirm")
    return withEffects(
      { ...settled, trouble: undefined, stage: { kind: "opening", waiting: [universe] } },
      { kind: "open-line", universe, patience: "until-open", known: identity },
    );
  const without = { kind: "rack-course", what: "went-on-without", detail: `universe ${universe}` } as const;
  return andThen(write(settled, without), onToNext);
};
