import { isSameIdentity } from "../events/interface-met.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import type { Batch, RackStage, StrangeLine } from "./batch.ts";
import { onToNext, type RackChange, write } from "./change.ts";
import type { RackInput } from "./input.ts";
import { answeredAtStart } from "./losing.ts";

/** Keeps with the rack's run which interface is at the other end of a universe's line, once and whenever it is another. */
export const rackInterfaceMet = (
  batch: Batch,
  { universe, identity }: Pick<StrangeLine, "universe" | "identity">,
): RackChange =>
  isSameIdentity(batch.record.interfaces.get(universe), identity)
    ? stay(batch)
    : write(batch, { kind: "interface-met", universe, identity });

/**
 * Keeps a universe cut off whose interface is another than before, until somebody agrees: asked at once where all wait for
 * it, else before anything moves again.
 */
export const rackStrangerMet = (batch: Batch, { universe, identity, words }: StrangeLine): RackChange => {
  const { stage } = batch;
  if (stage.kind === "finished") return stay(batch);
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
  { universe, identity }: Extract<RackStage, { kind: "other-interface" }>,
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
