import { andThen, stay } from "../machine/running.ts";

import type { Timed } from "../session/input.ts";
import { judgeStep } from "../session/judging.ts";
import { type Batch, memberAt, type RackStage } from "./batch.ts";
import { forEach, onToNext, type RackChange, write } from "./change.ts";
import type { RackInput } from "./input.ts";

type Which = Extract<RackStage, { kind: "which" }>;

/**
 * Takes who really moved when one fixture was asked to: a key for each, then "that is all"; none at all is an answer too.
 */
export const answerWhoMoved = (batch: Batch, stage: Which, input: Timed<RackInput>): RackChange => {
  if (input.kind === "confirm") return andThen(kept(batch, stage), onToNext);
  if (input.kind !== "differs") return stay(batch);
  const { member } = input;
  const others = stage.named.filter((one) => one !== member);
  const named = others.length < stage.named.length ? others : [...stage.named, member];
  return stay({ ...batch, stage: { ...stage, named } });
};

/** Keeps in the rack's run who moved, and in the fixture's own whether it did what it was commanded to. */
const kept = (batch: Batch, { next, named }: Which): RackChange => {
  const [asked = 0] = next.members;
  const { serial, run } = memberAt(batch, asked);
  const moved = named.map((index) => memberAt(batch, index).serial);
  const itself = named.includes(asked) && named.length === 1;
  const symptom = named.length === 0 ? "nothing-moves" : "wrong-thing";
  return andThen(write(batch, { kind: "who-moved", serial, run, moved }), (b) =>
    forEach(b, [asked], (session) => {
      const [played] = session.group;
      if (!played) return [session, []];
      const judged = judgeStep(session, played, itself ? "pass" : "fail", itself ? [] : [{ symptom }], "", "attended");
      return [{ ...judged[0], group: [] }, judged[1]];
    }),
  );
};
