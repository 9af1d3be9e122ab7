import type { Step } from "../../data/sequence/sequence.ts";
import { compileStep, settingAfter } from "../../plan/compile.ts";
import type { RackInput, Stamped } from "../machine/input.ts";
import { andThen, stay, withEffects } from "../machine/running.ts";
import { journalFailed } from "../machine/step.ts";
import { withNew } from "../session/adding.ts";
import type { Change, SessionEffect } from "../session/change.ts";
import type { Session } from "../session/session.ts";
import { step } from "../session/step.ts";
import { aloneMark, type Batch, type Member, memberAt, type RackStage } from "./batch.ts";
import { endRack, onToNext, type RackChange, type RackEffect, write } from "./change.ts";
import { localisedOnce } from "./localising.ts";

type Alone = Extract<RackStage, { kind: "alone" }>;

/**
 * Looks at one fixture alone, all others dark and still: only what was pressed, function by function, by all rules of a
 * single run. `member` is its index in the rack, from 0.
 */
export const beginAlone = (batch: Batch, member: number): RackChange => {
  const alone: Batch = { ...batch, stage: { kind: "alone", member } };
  const { cleared, person, now } = batch;
  const { session: before, spot } = memberAt(batch, member);
  const session: Session = {
    ...before,
    stage: { kind: "opening" },
    signs: [now],
    cleared,
    slowShown: false,
    person,
    now,
  };
  return carried(
    alone,
    member,
    andThen(addLocalised(session), (s) =>
      step(s, { kind: "line-open", universe: spot.universe, at: now, frame: 0, after: 0 }),
    ),
  );
};

/** A run that goes on has them already. */
const addLocalised = (session: Session): Change =>
  session.view.added.length > 0
    ? stay(session)
    : localisedOnce(pressedSteps(session)).reduce<Change>(
        (change, one) => andThen(change, (s) => added(s, one)),
        stay(session),
      );

const pressedSteps = ({ job, view }: Session) =>
  job.sequence.steps.filter((_, index) => {
    const result = view.steps[index]?.judged?.result;
    return result === "unsure" || result === "fail";
  });

const added = (session: Session, one: Step): Change => {
  const { profile, steps } = session.job.timeline;
  const last = steps.findLast(({ fitted }) => fitted);
  const compiled = compileStep(profile, session.job.bench, one, last ? settingAfter(last) : profile.rest, 1);
  return compiled.fitted ? withNew(session, { written: one, compiled }) : stay(session);
};

/** Whether an input concerns the fixture that is looked at alone, and so goes to its own session. */
export const isItsOwn = ({ members }: Batch, { member }: Alone, input: Stamped): boolean => {
  const { run, spot } = memberAt({ members }, member);
  if ("universe" in input) return input.universe === spot.universe;
  return "run" in input ? input.run === run : !OF_SEVERAL.includes(input.kind);
};

const OF_SEVERAL: readonly string[] = [
  "confirm-but",
  "differs",
  "undo-differs",
  "withdraw",
  "swap",
  "told-apart",
] satisfies readonly RackInput["kind"][];

/**
 * Gives an input to the session of the fixture that is looked at alone, by all rules of a single run;
 * with that at its end the rack goes on.
 */
export const whileAlone = (batch: Batch, { member }: Alone, input: Stamped): RackChange => {
  const { run, session } = memberAt(batch, member);
  const change = carried(batch, member, step(session, asked(input, aloneMark(run))));
  return andThen(change, (b) => {
    const { stage, cleared, slowShown } = memberAt(b, member).session;
    if (stage.kind !== "finished" || isOnlyOne(b)) return [b, []];
    return afterwards({ ...b, cleared, slowShown }, input);
  });
};

/** One fixture is looked at alone from beginning to end: its own end is the end of all. */
const isOnlyOne = ({ plan }: Batch): boolean => plan.asks === "alone";

const afterwards = (batch: Batch, input: Stamped): RackChange => {
  if (input.kind === "journal-failed") return journalFailed(batch, input.words);
  return input.kind === "stop" || input.kind === "signal" ? endRack(batch, "stopped") : onToNext(batch);
};

/** The question, and what was out at the press, as the fixture's own session named them. */
const asked = (input: Stamped, mark: string): Stamped => {
  const own = (key: string) => (key.startsWith(mark) ? key.slice(mark.length) : key);
  const named = "answers" in input ? { ...input, answers: own(input.answers) } : input;
  return input.way ? { ...named, way: { ...input.way, key: own(input.way.key) } } : named;
};

const carried = (batch: Batch, index: number, [session, effects]: Change): RackChange => {
  const member: Member = { ...memberAt(batch, index), session };
  const members = batch.members.map((one, at) => (at === index ? member : one));
  const after: Batch = { ...batch, members, person: session.person };
  const wanted = isOnlyOne(batch) ? effects : effects.filter(({ kind }) => kind !== "end");
  return andThen(withEffects(after, ...wanted.map((effect) => ofRack(batch, member, effect))), (b) =>
    alsoOfTheRack(b, effects),
  );
};

/** Its keys bear its name, its events go into its run, and a line is known by whom the rack met there. */
const ofRack = ({ record }: Batch, { run, serial, spot }: Member, effect: SessionEffect): RackEffect => {
  const { universe } = spot;
  switch (effect.kind) {
    case "open-line":
      return { ...effect, universe, known: effect.known ?? record.interfaces.get(universe) };
    case "play":
      return {
        kind: "play",
        key: aloneMark(run) + effect.key,
        parts: [{ step: effect.step, spots: [spot] }],
        from: effect.from,
      };
    case "diagnose":
      return { ...effect, key: aloneMark(run) + effect.key };
    case "mains-on":
    case "mains-off":
      return { kind: "by-hand", deed: { kind: effect.kind, serials: [serial] } };
    case "mended":
      return { kind: "by-hand", deed: { kind: "mended", serial, fault: effect.fault } };
    case "write":
      return { ...effect, run };
    default:
      return effect;
  }
};

/** Which interface carries a line is the rack's business too. */
const alsoOfTheRack = (batch: Batch, effects: Change[1]): RackChange => {
  const met = effects.find((effect) => effect.kind === "write" && effect.body.kind === "interface-met");
  return met?.kind === "write" && !isOnlyOne(batch) ? write(batch, met.body) : [batch, []];
};

type OwnAddress = Extract<RackStage, { kind: "own-address" }>;

/** Whether other fixtures would do the same as this one. `index` is its place in the rack, from 0. */
export const sharesAddress = (batch: Batch, index: number): boolean => {
  const { spot } = memberAt(batch, index);
  return batch.members.some(
    (other, at) =>
      at !== index &&
      other.state === "here" &&
      other.spot.universe === spot.universe &&
      other.spot.address === spot.address,
  );
};

/** A start address on its universe where it would overlap nobody; undefined when the universe is full. */
const freeAddress = (batch: Batch, index: number): number | undefined => {
  const { spot } = memberAt(batch, index);
  const { slots } = spot.profile;
  const others = batch.members.map((member) => member.spot).filter(({ universe }) => universe === spot.universe);
  const ends = others.map(({ address, profile }) => address + profile.slots).sort((a, b) => a - b);
  return ends.find(
    (address) =>
      address + slots - 1 <= 512 &&
      others.every((one) => one.address >= address + slots || one.address + one.profile.slots <= address),
  );
};

/** Asks for an address of its own for a fixture that shares one. `member` is its index in the rack, from 0. */
export const tellApart = (batch: Batch, member: number): RackChange =>
  stay({ ...batch, stage: { kind: "own-address", member, free: freeAddress(batch, member) } });

/** Takes that a fixture was set to its own address at its panel, or is the only one left with data: now it moves alone. */
export const toldApart = (batch: Batch, { member, free }: OwnAddress, input: Stamped): RackChange => {
  if (input.kind !== "told-apart") return stay(batch);
  if (input.how === "others-unplugged" || free === undefined) return beginAlone(batch, member);
  const { serial, run, spot } = memberAt(batch, member);
  const members = batch.members.map((one, at) => (at === member ? { ...one, spot: { ...spot, address: free } } : one));
  return andThen(
    write({ ...batch, members }, { kind: "address-set", serial, run, universe: spot.universe, address: free }),
    (b) =>
      andThen(withEffects(b, { kind: "by-hand", deed: { kind: "address-set", serial, address: free } }), (told) =>
        beginAlone(told, member),
      ),
  );
};
