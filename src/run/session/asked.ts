import type { Seconds } from "../../domain/units.ts";
import type { BodyOf, EventBody } from "../events/event.ts";
import { type FixtureSaid, isFixtures } from "../events/fixture-said.ts";
import type { FixtureTold } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import { hasLine } from "../machine/stages.ts";
import { type Change, write } from "./change.ts";
import { goOn } from "./flow.ts";
import { stepAt } from "./job.ts";
import { ownTestIn } from "./offered.ts";
import { played } from "./playing.ts";
import type { Session, StageOf } from "./session.ts";

/**
 * What a fixture is to be asked itself just now, over RDM. `since` names the power-up that it is asked after, so that
 * whoever could not be found is asked again when it has been switched on again.
 */
export type FixtureWanted =
  | { readonly kind: "everything"; readonly since: number }
  | { readonly kind: "sensors"; readonly since: number; readonly known: FixtureSaid }
  /** One of its own tests, to be begun once for each attempt and watched until it is over. */
  | { readonly kind: "own-test"; readonly since: number; readonly known: FixtureSaid; readonly test: OwnTestPlayed };

/** A fixture of a run that is to be asked something. */
export interface FixtureQuestion {
  readonly run: string;
  readonly universe: number;
  readonly serial: string;
  readonly address: number;
  readonly wanted: FixtureWanted;
  /** When the light came on, on the run's clock. */
  readonly litSince: Seconds | undefined;
}

/** What may be asked while this happens: nothing while there is no line, everything, or its sensors again and again. */
export type AskingTime = "not now" | "while it stands" | "while it soaks";

/** Whether the fixture can be asked over RDM now: while it stands, while it soaks, or not. */
export const askingTime = ({ stage, job }: Session): AskingTime => {
  if (!hasLine(stage.kind)) return "not now";
  return stage.kind === "moving" && stepAt(job, stage.index).routine === "soak" ? "while it soaks" : "while it stands";
};

/**
 * What the fixture is to be asked now: everything, once it has power and after every power-up; while it soaks its sensors
 * again and again. Undefined where nothing is due, or it cannot be asked now.
 */
export const wantedOf = (session: Session, time: AskingTime): FixtureWanted | undefined => {
  const since = time === "not now" ? undefined : poweredSince(session);
  if (since === undefined) return undefined;
  const known = session.told.slice(since).findLast((body) => body.kind === "fixture-said");
  if (known?.kind !== "fixture-said") return { kind: "everything", since };
  const test = ownTestNow(session);
  if (test) return { kind: "own-test", since, known, test };
  return time === "while it soaks" && known.sensors.length > 0 ? { kind: "sensors", since, known } : undefined;
};

/** A test of the fixture's own that is played, by its number, its step, and which try at it this is. */
interface OwnTestPlayed {
  readonly test: number;
  readonly step: string;
  readonly attempt: number;
}

/** The fixture's own test that runs just now; undefined where none does. */
const ownTestNow = ({ stage }: Session): OwnTestPlayed | undefined => {
  if (stage.kind !== "moving" || stage.step.routine !== "self-test") return undefined;
  const test = ownTestIn(stage.step.id);
  return test === undefined ? undefined : { test, step: stage.step.id, attempt: stage.attempt };
};

/** The number of events told when it was last switched on; undefined while it has no power, or homes under somebody's eyes. */
const poweredSince = ({ told, view, job }: Session): number | undefined => {
  const routineOf = (id: string) => view.steps.find((step) => step.id === id)?.routine;
  const isOn = (body: EventBody) => body.kind === "step-judged" && routineOf(body.step) === "power-up";
  const isOff = (body: EventBody) =>
    (body.kind === "hold-confirmed" && (body.point === "isolated" || body.point === "unplugged")) ||
    (body.kind === "step-started" && routineOf(body.step) === "power-up");
  const last = told.findLastIndex((body) => isOn(body) || isOff(body));
  const event = told[last];
  if (event) return isOn(event) ? last : undefined;
  return job.timeline.steps.some(({ fitted, routine }) => fitted && routine === "power-up") ? undefined : 0;
};

/** Takes what came of a question to the fixture. */
export const fixtureTold = (session: Session, input: FixtureTold): Change => {
  if (input.kind === "fixture-said") return fixtureSaid(session, input.body);
  return input.kind === "own-test-over" ? ownTestOver(session, input.words) : write(session, input.body);
};

/** Keeps what the fixture has answered as its own word; what need not be typed any more is not asked. */
const fixtureSaid = (session: Session, body: FixtureSaid): Change =>
  andThen(write({ ...session, trouble: session.trouble ?? setOtherwise(session, body) }, body), (s) => {
    const hours = body.counters.LAMP_HOURS;
    if (hours === undefined || s.view.readings.some(isFixtures)) return stay(s);
    return andThen(write(s, sourceHours(hours)), (after) => (isAskedForHours(after) ? goOn(after) : stay(after)));
  });

/** Address or mode are not what this run drives: said before anything moves, where it was asked before. */
const setOtherwise = ({ job }: Session, { address, mode }: FixtureSaid): string | undefined => {
  const { fixture } = job.opening;
  const { slots } = job.timeline.profile;
  const isElsewhere = address !== undefined && address !== fixture.address;
  if (!isElsewhere && (mode === undefined || mode.slots === slots)) return undefined;
  return `the fixture says it listens at address ${address ?? "none"} with ${mode?.slots ?? "no"} slots; this run drives ${fixture.address} with ${slots}`;
};

const sourceHours = (value: number): BodyOf<"reading-taken"> => ({
  kind: "reading-taken",
  reading: "source-hours",
  value,
  unit: "h",
  verdict: "within",
  initials: "",
  note: "",
  source: "fixture",
});

const isAskedForHours = ({ stage }: Session): boolean =>
  stage.kind === "by-hand" && stage.task.kind === "reading" && stage.task.reading === "source-hours";

/**
 * Ends the step of a fixture's own test, when the fixture says that it is over or would not begin; what it
 * said is noted before a person is asked.
 */
const ownTestOver = (session: Session, words: string): Change => {
  const { stage } = session;
  if (stage.kind !== "moving" || ownTestNow(session) === undefined) return stay(session);
  return andThen(endedNow(session, stage), (s) =>
    stay(s.stage.kind === "asking" ? { ...s, stage: { ...s.stage, note: words } } : s),
  );
};

/** Nothing of ours was out meanwhile that could have been late. */
const endedNow = (session: Session, stage: StageOf<"moving">): Change => {
  const over = {
    kind: "played",
    answers: "",
    rig: { worstLate: 0, dropped: 0 },
    at: session.now,
    frame: 0,
    after: 0,
  } as const;
  return andThen(played(session, stage, over), goOn);
};
