import type { Profile } from "../../data/profile/profile.ts";
import type { RackPlace } from "../../data/rack/rack.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import type { BodyOf } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import { emptyRack, type RackView } from "../events/rack-view.ts";
import type { HoldPoint } from "../machine/clearance.ts";
import type { RackInput, WatcherInput } from "../machine/input.ts";
import type { HowEnded, Running } from "../machine/running.ts";
import { questionOf, type Session } from "../session/session.ts";
import type { Turn } from "./turns.ts";

/** One playing of a sequence on a rack, as a value: every fixture's own session, and what they do together just now. */
export interface Batch extends Running {
  readonly plan: RackPlan;
  /** One for every place of the rack file; turns speak of them by their number, from 0. */
  readonly members: readonly Member[];
  /** What the rack's own run says so far. */
  readonly record: RackView;
  readonly stage: RackStage;
  /** The pass that is being watched: steps of one pass are confirmed together. */
  readonly pass: number | undefined;
  /** When the mains of some of them was last switched on. */
  readonly switchedAt: Seconds | undefined;
  /** Universes that cannot be reached just now. */
  readonly lost: readonly number[];
  /** Universes where another interface answers than the one before: a person is asked before anything is sent to it. */
  readonly strangers: readonly StrangeLine[];
  /** How many events of the rack's own run are on disk. */
  readonly stored: number;
}

/** Another interface than the one before, on the line of a universe. */
export interface StrangeLine {
  readonly universe: number;
  readonly identity: InterfaceIdentity;
  readonly words: string;
}

/** Where a fixture listens, and what it is. Ganged fixtures share one. */
export interface Spot {
  readonly universe: number;
  /** Start address, 1 to 512. */
  readonly address: number;
  readonly profile: Profile;
}

/** What does not change while a rack run lasts. */
export interface RackPlan {
  /** The name of the rack's own run. */
  readonly run: string;
  readonly title: string;
  readonly opening: BodyOf<"rack-opened">;
  readonly turns: readonly Turn[];
  /**
   * In the usual run fixtures move together, and who differs is pressed for. Else each moves by itself, and it is asked who
   * really did; or there is only one, looked at alone from beginning to end, and the rack writes nothing of its own.
   */
  readonly asks: "who-differs" | "who-moved" | "alone";
}

/** A fixture that takes part. */
export interface Member {
  readonly serial: string;
  readonly place: RackPlace;
  readonly run: string;
  /** Where it listens now. */
  readonly spot: Spot;
  readonly state: "here" | "withdrawn";
  /** Its own run: what came of its steps, whoever played beside it. */
  readonly session: Session;
}

/** A turn and one of its steps, with the members that play it. */
export interface RackNext {
  readonly turn: number;
  /** The place of the step in the sequence, from 0. */
  readonly index: number;
  readonly members: readonly number[];
}

/** A press for a step that somebody is still to be named for. */
export interface Pressed {
  readonly index: number;
  readonly frame: Frame;
  readonly after: Seconds;
  /** Only for what came over the air: how far off it may be. */
  readonly way?: { readonly give: Seconds } | undefined;
}

/** What happens just now; each stage carries only what is true in it. */
export type RackStage =
  /** Lines that have not answered yet. */
  | { readonly kind: "opening"; readonly waiting: readonly number[] }
  | { readonly kind: "holding"; readonly point: HoldPoint; readonly next: RackNext }
  | { readonly kind: "slow-start"; readonly next: RackNext }
  | {
      readonly kind: "moving";
      readonly next: RackNext;
      readonly attempt: number;
      /** "One of them", and nobody has said yet which. */
      readonly unclaimed: readonly Pressed[];
      /** A break was asked for: it waits until the step is over. */
      readonly wanted: "break" | undefined;
    }
  /** Which one was it? */
  | {
      readonly kind: "which";
      readonly next: RackNext;
      readonly attempt: number;
      readonly presses: readonly Pressed[];
      readonly named: readonly number[];
      readonly wanted: "break" | undefined;
    }
  | { readonly kind: "confirming"; readonly members: readonly number[] }
  | { readonly kind: "paused" }
  | {
      readonly kind: "line-lost";
      readonly universe: number;
      readonly words: string;
      readonly back: boolean;
      readonly next: RackNext;
    }
  | ({ readonly kind: "other-interface" } & StrangeLine)
  /** All groups have been watched; these want a slow look, one at a time. */
  | { readonly kind: "between"; readonly odd: readonly number[] }
  /** It shares its address: by its panel it gets one of its own, or the others are unplugged. */
  | { readonly kind: "own-address"; readonly member: number; readonly free: number | undefined }
  /** One fixture alone, by all rules of a single run. */
  | { readonly kind: "alone"; readonly member: number }
  | { readonly kind: "finished"; readonly how: HowEnded };

/** A stage of one kind, with what is true in it. */
export type RackStageOf<K extends RackStage["kind"]> = Extract<RackStage, { kind: K }>;

/** The question that is open now, for keys to name. Undefined when no answer is wanted. */
export const rackQuestionOf = (batch: Batch): string | undefined => {
  const { stage } = batch;
  const at = "next" in stage ? `${stage.next.turn}.${stage.next.index}` : "";
  switch (stage.kind) {
    case "moving":
      return `${at}.${stage.attempt}`;
    case "which":
      return `${at}.${stage.attempt}?`;
    case "holding":
      return `${stage.point}:${at}`;
    case "slow-start":
      return `slow-start:${at}`;
    case "line-lost":
      return `line:${stage.universe}.${at}${stage.back ? ":back" : ""}`;
    case "other-interface":
      return `interface:${stage.universe}:${stage.identity.number}:${stage.identity.usb}`;
    case "confirming":
      return `watched:${batch.pass}.${stage.members.join(",")}.${batch.record.count}`;
    case "paused":
      return `paused:${batch.record.count}`;
    case "between":
      return `between:${stage.odd.join(",")}`;
    case "own-address":
      return `address:${stage.member}`;
    case "alone":
      return aloneQuestion(memberAt(batch, stage.member));
    case "opening":
    case "finished":
      return undefined;
    default:
      return stage satisfies never;
  }
};

const aloneQuestion = ({ run, session }: Member): string | undefined => {
  const question = questionOf(session);
  return question === undefined ? undefined : `${aloneMark(run)}${question}`;
};

/** What comes before the names of the questions of a fixture that is looked at alone. */
export const aloneMark = (run: string): string => `${run}|`;

/** What was answered to the fixture of this run, as an answer of its rack. */
export const markedFor = (run: string, input: WatcherInput): RackInput =>
  "answers" in input ? { ...input, answers: aloneMark(run) + input.answers } : input;

/** The fixture at `index`, its place in the rack, from 0. Throws "Bug: ..." where there is none. */
export const memberAt = ({ members }: Pick<Batch, "members">, index: number): Member => {
  const member = members[index];
  if (!member) throw new Error(`Bug: no fixture ${index} in this rack`);
  return member;
};

/** A rack run about to begin; with what was recorded of an unfinished one it goes on where that stopped. */
export const openBatch = (
  plan: RackPlan,
  members: readonly Member[],
  person: string,
  record: RackView = emptyRack,
): Batch => ({
  plan,
  person,
  members,
  record,
  stage: { kind: "opening", waiting: [] },
  now: 0,
  signs: [0],
  pass: undefined,
  cleared: false,
  slowShown: false,
  switchedAt: undefined,
  lost: [],
  strangers: [],
  stored: record.count,
  trouble: undefined,
});

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
