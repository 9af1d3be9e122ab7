import type { Stamped } from "../machine/input.ts";
import { andThen, stay, uncleared, withEffects } from "../machine/running.ts";
import type { Job } from "../session/job.ts";
import { begin } from "../session/line.ts";
import { openSession } from "../session/session.ts";
import { type Batch, type Member, memberAt } from "./batch.ts";
import { closeRuns, forEach, onToNext, type RackChange, write } from "./change.ts";

/**
 * Makes the rack wait, still and dark; a fixture may be taken out or another put in its place. Before
 * anything moves again the area is asked about.
 */
export const takeBreak = (batch: Batch): RackChange =>
  andThen(
    write({ ...uncleared(batch), stage: { kind: "paused" } }, { kind: "rack-course", what: "paused", detail: "" }),
    (b) => withEffects(b, { kind: "go-dark" }),
  );

/** Takes an answer in a break: a fixture is taken out, another is put in its place, or it goes on. */
export const inBreak = (batch: Batch, input: Stamped): RackChange => {
  switch (input.kind) {
    case "withdraw":
      return withdraw(batch, input.member, input.why);
    case "swap":
      return swap(batch, input.member, input.serial.trim());
    case "go-on":
    case "confirm":
      return andThen(write(withoutTrouble(batch), { kind: "rack-course", what: "went-on", detail: "" }), onToNext);
    default:
      return stay(batch);
  }
};

/** The person has read it, but for a line that is still gone. */
const withoutTrouble = (batch: Batch): Batch => (batch.lost.length > 0 ? batch : { ...batch, trouble: undefined });

/** Its run stays as far as it came; the others go on without it. */
const withdraw = (batch: Batch, index: number, why: string): RackChange => {
  const { state, serial, run } = memberAt(batch, index);
  if (state === "withdrawn") return stay(batch);
  const out = withMember(batch, index, (member) => ({ ...member, state: "withdrawn" }));
  return andThen(write(out, { kind: "fixture-withdrawn", serial, run, why }), (b) =>
    closeRuns(b, [index], "abandoned"),
  );
};

/** The new one begins at the beginning, in a run of its own; it is caught up with before the others go on. */
const swap = (batch: Batch, index: number, serial: string): RackChange => {
  const { serial: before, run, session } = memberAt(batch, index);
  if (serial === "" || batch.members.some((member) => member.serial === serial)) return stay(batch);
  const closed = closeRuns(batch, [index], "abandoned");
  const by = { serial, run: `${batch.plan.run}-${String(batch.record.runs + 1).padStart(2, "0")}` };
  return andThen(closed, (b) =>
    andThen(
      write(
        withMember(b, index, (member) => newcomer(member, by, session.job)),
        { kind: "fixture-swapped", serial: before, run, by },
      ),
      (swapped) =>
        andThen(forEach(swapped, [index], begin), (begun) =>
          withEffects(begun, { kind: "by-hand", deed: { kind: "swapped", serial: before, by: serial } }),
        ),
    ),
  );
};

const newcomer = (member: Member, by: { readonly serial: string; readonly run: string }, job: Job): Member => {
  const { opening, timeline } = job;
  const fixture = { ...opening.fixture, serial: by.serial };
  const steps = timeline.steps.slice(0, opening.steps.length);
  const fresh: Job = { ...job, timeline: { ...timeline, steps }, opening: { ...opening, fixture, set: [] } };
  return { ...member, ...by, state: "here", session: openSession(fresh, member.session.person) };
};

const withMember = (batch: Batch, index: number, change: (member: Member) => Member): Batch => ({
  ...batch,
  members: batch.members.map((member, at) => (at === index ? change(member) : member)),
});
