import { parseBench } from "../../data/bench/bench.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import { parseRack } from "../../data/rack/parse.ts";
import { parseSequence } from "../../data/sequence/parse.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { fromStored } from "../../plan/stored.ts";
import type { Member } from "../../run/batch/batch.ts";
import type { BodyOf, EventBody } from "../../run/events/event.ts";
import { type RackView, rackViewOf } from "../../run/events/rack-view.ts";
import { viewOf } from "../../run/events/view.ts";
import type { Journal } from "../../run/ports.ts";
import type { Job } from "../../run/session/job.ts";
import { openSession } from "../../run/session/session.ts";
import type { RackMaterial } from "./rack-data.ts";
import type { RackJob } from "./rack-job.ts";

/** A rack run as the journal holds it, with the data files as they were when it was made. */
export interface KeptRack {
  readonly run: string;
  readonly view: RackView;
  readonly opened: BodyOf<"rack-opened">;
  readonly material: RackMaterial;
  /** The events of every fixture's own run, in the order of the rack. */
  readonly members: readonly (readonly EventBody[])[];
}

/**
 * A rack run by its name, by the beginning of it, or by the name of one of its fixtures' runs; or that there is
 * none, or that it is a run of one fixture.
 */
export const keptRack = async (journal: Journal, name: string): Promise<Result<KeptRack>> => {
  const named = await rackRunNamed(journal, name);
  if (!named.ok) return named;
  const view = rackViewOf(await bodiesOf(journal, named.value));
  const { opened } = view;
  if (!opened)
    return bad(problem(name, "this is not a run of a rack", "limber resume goes on with one of a single fixture"));
  const members: (readonly EventBody[])[] = [];
  for (const { run } of view.members) members.push(await bodiesOf(journal, run));
  const material = materialOf(opened, members);
  return material.ok ? good({ run: named.value, view, opened, material: material.value, members }) : material;
};

const bodiesOf = async (journal: Journal, run: string): Promise<readonly EventBody[]> =>
  (await journal.events(run)).map(({ body }) => body);

/** The runs of its fixtures are called after it. */
const rackRunNamed = async (journal: Journal, name: string): Promise<Result<string>> => {
  const fixtures = await journal.briefs({ kind: "named", beginning: name });
  const racks = [...new Set(fixtures.map(({ run }) => run.replace(/-\d{2,3}$/, "")))];
  const [run, ...others] = racks;
  if (run === undefined)
    return bad(problem(name, "there is no run of this name in the journal", '"limber runs" lists them'));
  return others.length === 0
    ? good(run)
    : bad(problem(name, `${racks.length} runs begin like this`, racks.slice(0, 5).join(", ")));
};

/** The very texts it was made from, not today's files. */
const materialOf = (
  { rack, profiles }: BodyOf<"rack-opened">,
  members: readonly (readonly EventBody[])[],
): Result<RackMaterial> => {
  const texts = new Map(profiles.map(({ name, text }) => [name, text]));
  const opened = members.flat().find((body) => body.kind === "run-opened");
  if (!opened) return bad(problem(rack.name, "none of its fixtures was begun with"));
  const { sequence, bench } = opened;
  const kinds = new Map([...texts].map(([name, text]) => [name, parseProfile(kept(name), text)]));
  const missing = bad(problem(rack.name, "a profile of this rack was not saved"));
  const parsed = {
    rack: parseRack(kept(rack.name), rack.text, (name) => kinds.get(name) ?? missing),
    sequence: parseSequence(kept(sequence.name), sequence.text),
    bench: parseBench(kept(bench.name), bench.text),
  };
  if (!parsed.rack.ok || !parsed.sequence.ok || !parsed.bench.ok)
    return bad(...Object.values(parsed).flatMap((one): readonly Problem[] => (one.ok ? [] : one.problems)));
  return good({
    rack: { value: parsed.rack.value, text: rack.text },
    sequence: { value: parsed.sequence.value, text: sequence.text },
    bench: { value: parsed.bench.value, text: bench.text },
    profiles: texts,
  });
};

const kept = (name: string): string => `${name} (as saved in the journal)`;

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
