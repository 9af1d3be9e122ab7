import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { Frame } from "../../domain/units.ts";
import { darkened, sampler } from "../../plan/sample.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { EventBody } from "../events/event.ts";
import { applyToRack } from "../events/rack-view.ts";
import type { StandsAt } from "../machine/commanded.ts";
import {
  andThen,
  type Changed,
  ended,
  type HowEnded,
  type SharedEffect,
  stay,
  withEffects,
} from "../machine/running.ts";
import { type Change, type SessionEffect, write as writeOwn } from "../session/change.ts";
import type { Session } from "../session/session.ts";
import { type Batch, type Member, memberAt, rackQuestionOf, type Spot } from "./batch.ts";

/**
 * What a run wants of the world, of one fixture or of many: what one fixture's session wants, each with its line and its run.
 * The shell carries it out; outcomes come back as inputs.
 */
export type RackEffect =
  | SharedEffect
  | (OfOne<"open-line"> & { readonly universe: number })
  /** All parts from the same frame to the end of the longest; whoever has no part stands still and dark. */
  | { readonly kind: "play"; readonly key: string; readonly parts: readonly PlayedPart[]; readonly from: Frame }
  | { readonly kind: "by-hand"; readonly deed: Deed }
  | (OfOne<"write"> & { readonly run: string })
  | OfOne<"diagnose">;
type OfOne<Kind extends SessionEffect["kind"]> = Extract<SessionEffect, { readonly kind: Kind }>;

/** One compiled step for all fixtures of a kind and mode that play it. */
export interface PlayedPart {
  readonly step: CompiledStep;
  readonly spots: readonly Spot[];
}

/** What a person has done at the fixtures themselves: only simulated ones need telling. */
export type Deed =
  | { readonly kind: "mains-on"; readonly serials: readonly string[] }
  | { readonly kind: "mains-off"; readonly serials: readonly string[] }
  | { readonly kind: "mended"; readonly serial: string; readonly fault: FaultId }
  | { readonly kind: "address-set"; readonly serial: string; readonly address: number }
  | { readonly kind: "swapped"; readonly serial: string; readonly by: string };

/** The next state of the rack and what it wants of the world. */
export type RackChange = Changed<Batch, RackEffect | typeof GO_ON>;

/** Goes on to whatever is due, as the last thing of a change. `stepRack` sees to it; nobody outside hears of it. */
export const onToNext = (batch: Batch): RackChange => [batch, [GO_ON]];

const GO_ON = { kind: "go-on" } as const;

/** Puts an event in the rack's own run. */
export const write = (batch: Batch, body: EventBody): RackChange => {
  const record = applyToRack(batch.record, body);
  const { run } = batch.plan;
  return withEffects({ ...batch, record }, { kind: "write", run, body, person: batch.person, count: record.count });
};

/**
 * Makes one change for some fixtures at once: every event in its own run, one playing for all, one announcement. `members`
 * are their indices in the rack, from 0.
 */
export const forEach = (
  batch: Batch,
  members: readonly number[],
  change: (session: Session, member: Member) => Change,
): RackChange => {
  const results = members.map((index) => {
    const member = memberAt(batch, index);
    const [session, effects] = change(asNow(member.session, batch), member);
    return { index, member, session, effects };
  });
  const sessions = new Map(results.map(({ index, session }) => [index, session]));
  const after: Batch = {
    ...batch,
    members: batch.members.map((member, index) => ({ ...member, session: sessions.get(index) ?? member.session })),
  };
  return [after, merged(after, results)];
};

/** What all of them share is kept by the rack. */
const asNow = (session: Session, { now, person, signs, cleared, slowShown }: Batch): Session => ({
  ...session,
  now,
  person,
  signs,
  cleared,
  slowShown,
});

interface MemberChange {
  readonly member: Member;
  readonly effects: readonly SessionEffect[];
}

/** Lines are opened and the run is ended by the rack itself. */
const merged = (batch: Batch, results: readonly MemberChange[]): readonly RackEffect[] => {
  const all = results.flatMap(({ member, effects }) => effects.map((effect) => ({ member, effect })));
  const said = all.flatMap(({ effect }) => (effect.kind === "say" ? [effect] : []));
  const plays = all.flatMap(({ member, effect }) =>
    effect.kind === "play" ? [{ spot: member.spot, step: effect.step }] : [],
  );
  return [
    ...all.flatMap(({ member, effect }) => (effect.kind === "write" ? [{ ...effect, run: member.run }] : [])),
    ...said.slice(0, 1),
    ...(plays.length > 0
      ? [{ kind: "play", key: rackQuestionOf(batch) ?? "", parts: partsOf(plays), from: 0 } as const]
      : []),
  ];
};

/**
 * What plays as parts, each a step and all the fixtures that play it: those of a kind and
 * mode have the very same compiled step.
 */
const partsOf = (plays: readonly { readonly spot: Spot; readonly step: CompiledStep }[]): readonly PlayedPart[] =>
  [...new Set(plays.map(({ step }) => step))].map((step) => ({
    step,
    spots: plays.flatMap((one) => (one.step === step ? [one.spot] : [])),
  }));

/**
 * Ends the runs of these fixtures; those that are over stay as they are. `members` are their indices in the rack, from 0.
 */
export const closeRuns = (
  batch: Batch,
  members: readonly number[],
  how: "abandoned" | "stopped" | "finished",
): RackChange =>
  forEach(batch, members, (session) =>
    isOver(session.view.closed) ? stay(session) : writeOwn({ ...session, group: [] }, { kind: "run-closed", how }),
  );

/** What was stopped may go on another day, and then end again. */
const isOver = (closed: Session["view"]["closed"]): boolean => closed === "finished" || closed === "abandoned";

/** Ends the rack's run in any way; unfinished runs are closed, and the journal is told. */
export const endRack = (batch: Batch, how: HowEnded): RackChange =>
  ended(batch, how, (b) =>
    andThen(closeRuns(b, [...b.members.keys()], "stopped"), (closed) => write(closed, { kind: "run-closed", how })),
  );

/** A fixture that was commanded to stand somewhere in an earlier part of its run. */
export interface LeftSpot {
  readonly spot: Spot;
  /** There, and dark. */
  readonly slots: Uint8Array;
}

/** Where a fixture was left, as what is known before the first frame; none where nobody knows it. */
export const leftSpot = (spot: Spot, left: StandsAt | undefined): readonly LeftSpot[] =>
  left ? [{ spot, slots: darkened(spot.profile, sampler(spot.profile, left.step)(left.frame)) }] : [];
