import type { Session } from "../session/session.ts";
import { type Batch, type Member, memberAt, openBatch, type RackPlan } from "./batch.ts";

/**
 * A run of one fixture: a rack of one, looked at alone from beginning to end. Beside the fixture's own run it writes nothing.
 *
 * @param session - the fixture's own run, about to begin or to go on
 * @param run - its name in the journal
 */
export const rackOfOne = (session: Session, run: string): Batch => {
  const { fixture, simulated } = session.job.opening;
  const { serial, universe, address } = fixture;
  const rack = { name: serial, text: "" };
  const plan: RackPlan = {
    run,
    title: serial,
    opening: { kind: "rack-opened", rack, profiles: [], members: [{ serial, run }], simulated },
    turns: [],
    asks: "alone",
  };
  const spot = { universe, address, profile: session.job.timeline.profile };
  const only = { serial, place: { shelf: "", position: "" }, run, spot, state: "here", session } as const;
  return { ...openBatch(plan, [only], session.person), stage: { kind: "alone", member: 0 } };
};

/** The fixture's own run in a rack of one. */
export const onlySession = (batch: Batch): Session => memberAt(batch, 0).session;

/** Who is looked at alone just now, by all rules of a fixture's own run; undefined while several are watched, or none. */
export const lookedAtAlone = (batch: Batch): Member | undefined =>
  batch.stage.kind === "alone" ? memberAt(batch, batch.stage.member) : undefined;
