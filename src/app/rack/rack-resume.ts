import { problem } from "../../domain/problem/problem.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { fromStored } from "../../plan/stored.ts";
import { type Member, openBatch } from "../../run/batch/batch.ts";
import type { EventBody } from "../../run/events/event.ts";
import type { RackView } from "../../run/events/rack-view.ts";
import { viewOf } from "../../run/events/view.ts";
import type { Job } from "../../run/session/job.ts";
import { openSession } from "../../run/session/session.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { shopHistory } from "../journal/shop-history.ts";
import { withJournal } from "../journal/with-journal.ts";
import { type KeptRack, keptRack } from "./kept-rack.ts";
import type { RackJob } from "./rack-job.ts";
import { prepareRack } from "./rack-prepare.ts";
import { carryOutRack, type RackRunOptions } from "./rack-run.ts";

/**
 * Plays an unfinished rack run on from where it stopped: the first group that was not
 * watched to its end, or the next odd one.
 */
export const resumeRack = (name: string, options: RackRunOptions): Promise<ExitCode> =>
  withJournal(options.journal, async (journal) => {
    const kept = await keptRack(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    if (kept.value.view.closed === "finished")
      return refuse([problem(kept.value.run, "this rack run is finished", '"limber rack run" begins another')]);
    const { run, view, material, opened } = kept.value;
    if (view.answers.length > 0)
      return refuse([problem(run, "this run asked which fixture is where", '"limber rack identify" starts it again')]);
    const { learned } = await shopHistory(journal);
    const output = options.output === "" && opened.simulated ? "sim" : options.output;
    const set = options.set.size > 0 ? options.set : setBefore(kept.value);
    const wanted = { ...options, run, learned, output, set, seed: options.watcher ?? 1 };
    const ready = prepareRack(fileLibrary(), material, wanted, (job) => asItStood(job, kept.value));
    if (!ready.ok) return refuse(ready.problems);
    const { plan, members } = ready.value.job;
    return await carryOutRack(options, ready.value, openBatch(plan, members, options.person, view), journal);
  });

const setBefore = ({ view, members }: KeptRack): ReadonlyMap<string, readonly string[]> =>
  new Map(
    view.members.flatMap(({ serial }, index) => {
      const set = viewOf(members[index] ?? []).opened?.set ?? [];
      return set.length > 0 ? [[serial, set] as const] : [];
    }),
  );

/**
 * The rack as an earlier part of its run left it: every fixture as far as it came, at the address it has by now;
 * whoever was swapped in stands in its place.
 */
export const asItStood = (
  { plan, members }: RackJob,
  { view, members: bodies }: Pick<KeptRack, "view" | "members">,
): RackJob => ({
  plan,
  members: members.map((member, index) => memberAsItStood(member, view, index, bodies[index] ?? [])),
});

const memberAsItStood = (member: Member, view: RackView, index: number, bodies: readonly EventBody[]): Member => {
  const now = view.members[index];
  if (!now) throw new Error(`Bug: the rack run knows nothing of place ${index + 1}`);
  const { job, person } = member.session;
  const address = view.addresses.get(now.serial)?.address ?? member.spot.address;
  const session = openSession(jobAsItStood(job, bodies), person, bodies);
  return { ...member, ...now, spot: { ...member.spot, address }, session };
};

/** With the steps as they were compiled when it began, and those added in its course. */
const jobAsItStood = (job: Job, bodies: readonly EventBody[]): Job => {
  const { opened, added } = viewOf(bodies);
  if (!opened) return job;
  const { profile } = job.timeline;
  // What is the same is the same object: then all of a kind are played as one part.
  const steps = opened.steps.map((stored, index) => {
    const today = job.timeline.steps[index];
    const same = today && job.opening.steps[index]?.fingerprint === stored.fingerprint;
    return same ? today : fromStored(profile, stored);
  });
  const more = added.map((stored) => fromStored(profile, stored));
  return { ...job, opening: opened, timeline: { ...job.timeline, steps: [...steps, ...more] } };
};
