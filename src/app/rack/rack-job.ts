import type { Output } from "../../data/bench/output.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { planStarts } from "../../data/rack/power.ts";
import { hasStart, type Rack, type RackFixture, type StartAddress } from "../../data/rack/rack.ts";
import type { Learned } from "../../diagnosis/model/shop.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { type Seconds, secondsOf } from "../../domain/units.ts";
import type { Member, RackPlan } from "../../run/batch/batch.ts";
import { turnsOf } from "../../run/batch/turns.ts";
import type { DataLibrary } from "../../run/ports.ts";
import type { Job } from "../../run/session/job.ts";
import { openSession } from "../../run/session/session.ts";
import { type Loaded, type Material, otherProfiles } from "../common/data.ts";
import { jobFor, knowing } from "../fixture/job.ts";
import type { RackMaterial } from "./rack-data.ts";
import { nameOf, rackOutputs } from "./rack-lines.ts";
import { type SimRack, simRack } from "./rack-sim.ts";

/** What a rack run is made from, and how it is to be called. */
interface RackOrder {
  readonly run: string;
  readonly person: string;
  readonly rack: Loaded<Rack>;
  readonly sequence: Material["sequence"];
  readonly bench: Material["bench"];
  /** Texts of the profiles, by the names that the rack file gives them. */
  readonly profiles: ReadonlyMap<string, string>;
  readonly learned: Learned;
  /** The output of a universe (1 to 63999), as a run keeps it. */
  readonly outputOf: (universe: number) => string;
  /** Faults set in a simulated fixture, by its serial. */
  readonly set: ReadonlyMap<string, readonly string[]>;
}

export interface RackJob {
  readonly plan: RackPlan;
  readonly members: readonly Member[];
}

/** A rack run ready to begin, compiled once for every kind and mode; or why it cannot be run. */
export const rackJobFor = (shelf: DataLibrary, order: RackOrder): Result<RackJob> => {
  const rack = order.rack.value;
  const { starts, stuck, uncounted } = planStarts(rack);
  const wrong = [...homeless(rack), ...stuck.map(tooWeak)];
  if (wrong.length > 0) return bad(...wrong);
  const jobs = jobsFor(shelf, order);
  if (!jobs.ok) return jobs;
  const { fixtures, groupSizes: sizes } = rack;
  const members = fixtures
    .filter(hasStart)
    .map((fixture, index) => memberOf(fixture, index, jobs.value.get(fixture.profile), order));
  const upIn = ({ profile }: RackFixture) => powerUpSeconds(jobs.value.get(profile));
  const turns = turnsOf({ fixtures, sizes, sequence: order.sequence.value, starts, uncounted, upIn });
  return good({ plan: planOf(order, members, turns), members });
};

const powerUpSeconds = (job: Job | undefined): Seconds =>
  secondsOf(job?.timeline.steps.find(({ routine }) => routine === "power-up")?.frames ?? 0);

const homeless = ({ fixtures, name }: Rack): readonly Problem[] =>
  fixtures.flatMap((fixture) =>
    hasStart(fixture)
      ? []
      : [problem(name, `${fixture.serial} has no address yet`, '"limber rack address" proposes addresses')],
  );

const tooWeak = ({ serial, circuit }: RackFixture): Problem =>
  problem(serial, `circuit ${circuit} cannot start it beside what is on it`, '"limber rack check" says why');

const jobsFor = (shelf: DataLibrary, order: RackOrder): Result<ReadonlyMap<Profile, Job>> => {
  const jobs = new Map<Profile, Job>();
  for (const { profile } of order.rack.value.fixtures) {
    if (jobs.has(profile)) continue;
    const made = jobFor(materialOf(order, profile), BLANK_ORDER);
    if (!made.ok) return made;
    jobs.set(profile, knowing(made.value, otherProfiles(shelf, profile), order.learned));
  }
  return good(jobs);
};

/** The order for a fixture's run, before its own details are filled in. */
const BLANK_ORDER = {
  serial: "",
  universe: 1,
  address: 1,
  output: "",
  simulated: false,
  set: [],
  mode: "attended",
  replays: undefined,
  hire: undefined,
} as const;

const materialOf = ({ profiles, sequence, bench }: RackOrder, profile: Profile): Material => {
  const text = [...profiles.values()].find((one) => {
    const parsed = parseProfile(profile.name, one);
    return parsed.ok && parsed.value.name === profile.name;
  });
  if (text === undefined) throw new Error(`Bug: the text of profile ${profile.name} was not saved`);
  return { profile: { value: profile, text }, sequence, bench };
};

const memberOf = (
  { serial, place, profile, start }: RackFixture & { readonly start: StartAddress },
  index: number,
  kind: Job | undefined,
  { run, person, outputOf, set }: RackOrder,
): Member => {
  if (!kind) throw new Error(`Bug: ${profile.name} was not compiled`);
  const { universe, slot: address } = start;
  const output = outputOf(universe);
  const own = { fixture: { serial, universe, address }, output, simulated: output === "sim", rack: run };
  const job: Job = { ...kind, opening: { ...kind.opening, ...own, set: [...(set.get(serial) ?? [])] } };
  const spot = { universe, address, profile };
  return { serial, place, run: runOfMember(run, index + 1), spot, state: "here", session: openSession(job, person) };
};

/** "20261125-1523-13c176-07". */
const runOfMember = (run: string, number: number): string => `${run}-${String(number).padStart(2, "0")}`;

const planOf = (order: RackOrder, members: readonly Member[], turns: RackPlan["turns"]): RackPlan => {
  const { run, rack, profiles } = order;
  return {
    run,
    title: rack.value.title,
    opening: {
      kind: "rack-opened",
      rack: { name: rack.value.name, text: rack.text },
      profiles: [...profiles].map(([name, text]) => ({ name, text })),
      members: members.map(({ serial, run: own }) => ({ serial, run: own })),
      simulated: members.every(({ session }) => session.job.opening.simulated),
    },
    turns,
    asks: "who-differs",
  };
};

interface RackWanted {
  readonly run: string;
  readonly person: string;
  readonly learned: Learned;
  /** "sim" makes every line a simulated one; empty: as the rack file says. */
  readonly output: string;
  /** Faults to be set in simulated fixtures, by serial. */
  readonly set: ReadonlyMap<string, readonly string[]>;
  readonly seed: number;
}

/** A rack run and what stands at the other end of its lines. */
export interface ReadyRack {
  readonly job: RackJob;
  readonly outputs: ReadonlyMap<number, Output>;
  readonly sim: SimRack;
  readonly bench: RackMaterial["bench"]["value"];
}

/**
 * A rack run with its lines, ready to be played; or everything that is wrong with the order. `asItStands` gives what has
 * become of the rack in an earlier part of the run.
 */
export const prepareRack = (
  shelf: DataLibrary,
  material: RackMaterial,
  wanted: RackWanted,
  asItStands: (job: RackJob) => RackJob = (job) => job,
): Result<ReadyRack> => {
  const outputs = rackOutputs(material.rack.value, wanted.output);
  if (!outputs.ok) return outputs;
  const outputOf = (universe: number) => nameOf(outputs.value, universe);
  const made = rackJobFor(shelf, { ...wanted, ...material, outputOf });
  if (!made.ok) return made;
  const job = asItStands(made.value);
  const sim = simRack(job.members, wanted.set, wanted.seed);
  if (!sim.ok) return sim;
  return good({ job, outputs: outputs.value, sim: sim.value, bench: material.bench.value });
};
