import fc from "fast-check";
import { expect, test } from "vitest";
import type { Profile } from "../../../src/data/profile/profile.ts";
import {
  type Batch,
  memberAt,
  onlySession,
  openBatch,
  rackOfOne,
  rackQuestionOf,
  type Spot,
} from "../../../src/run/batch/batch.ts";
import { openSession, type Session } from "../../../src/run/session/session.ts";
import { jobOf } from "../../kit/driven.ts";
import { rackJobOf, spots } from "../../kit/driven-rack.ts";
import { isDark, movedBetween } from "../../kit/held.ts";
import { Wired, type WireFrame } from "../../kit/wired.ts";

/**
 * What the wire may carry, asked in other words than the rules say it: an axis moves only after somebody said that the area
 * is clear, and never after a moment in which hands may have been at the head; a stop changes nothing but the light.
 */
const STEPS = [
  "identify: fixture",
  "{ sweep: Pan, seconds: 0.5, passes: 2 }",
  "{ hold: Dimmer, at_pct: [40], seconds: 0.5 }",
];
const BY_HAND = [
  "{ sweep: Pan, seconds: 0.5, passes: 1 }",
  "{ inspect: [menu-settings] }",
  "{ sweep: Tilt, seconds: 0.5, passes: 1 }",
];

/** Where people may be at the head, by the stage of a fixture or of a rack. */
const AT_THE_HEAD = ["by-hand", "setting-found", "what-next", "paused", "line-lost", "own-address", "between"];
/** Where everything stands dark. */
const STOPS = ["by-hand", "what-next", "paused", "line-lost", "own-address", "between", "finished"];
/** Where something moves in front of people, who see it. */
const IN_MOTION = ["moving", "slow-start", "stirring", "at-spot", "finished", "opening"];
const MINUTE_S = 60;
/** What the world tells by itself, without anybody being there. */
const BY_ITSELF = ["stored", "played", "line-lost", "line-open"];

/** A fixture, and whether its run knows where it stands. */
type Known = Spot & { readonly known: boolean };

const FROM_WHERE_IT_STANDS = "a slow start from where it stands";

interface Now {
  readonly stage: string;
  /** The page that says that the area is clear, or that the mains goes on. */
  readonly safetyPage: boolean;
  readonly spots: readonly Known[];
}

/** Watches a run: throws at the first frame that should not have gone out. */
class Witness {
  private clear = false;
  /** It moved, and somebody said that the area is not clear after all. */
  private withdrawn = false;
  private lastSeen = 0;
  private stood = "opening";
  private readonly before = new Map<string, readonly number[]>();
  private readonly last = new Map<number, Uint8Array>();
  readonly stages = new Set<string>();
  private readonly look: () => Now;
  private readonly now: () => number;

  constructor(look: () => Now, now: () => number) {
    this.look = look;
    this.now = now;
  }

  hears(kind: string): void {
    const { stage, safetyPage } = this.look();
    this.stages.add(stage);
    const unseen = !IN_MOTION.includes(stage) && this.now() - this.lastSeen > MINUTE_S;
    if (unseen || AT_THE_HEAD.includes(stage)) this.clear = false;
    this.withdrawn = MOVING.includes(stage) && kind.startsWith("undo");
    if (safetyPage && kind === "confirm") this.clear = true;
    if (!BY_ITSELF.includes(kind)) this.lastSeen = this.now();
  }

  reads({ universe, levels }: WireFrame): void {
    const { stage, spots: all } = this.look();
    if (IN_MOTION.includes(stage)) this.lastSeen = this.now();
    const same = this.last.get(universe);
    this.last.set(universe, levels);
    if (stage !== this.stood || !same || Buffer.compare(same, levels) !== 0)
      for (const spot of all) if (spot.universe === universe) this.readsOne(spot, levels, stage);
    this.stood = stage;
  }

  private readsOne({ universe, address, profile, known }: Known, levels: Uint8Array, stage: string): void {
    const slots = [...levels.slice(address - 1, address - 1 + profile.slots)];
    const was = this.before.get(`${universe}.${address}`);
    this.before.set(`${universe}.${address}`, slots);
    const moved = movedBetween(profile, was ?? slots.map(() => 0), slots);
    if (moved.length > 0 && !this.clear)
      throw new Error(`moves at "${stage}", after "${this.stood}": nobody cleared the area`);
    // Where nothing was sent yet nobody knows where it stands: the page says so. What was never sent moved nothing either.
    if (was?.some((level) => level !== 0) && known && stage === "slow-start" && this.stood !== "slow-start") {
      this.stages.add(FROM_WHERE_IT_STANDS);
      expect(moved, "the slow movement begins where it stands").toEqual([]);
    }
    const stops = STOPS.includes(stage) || (this.withdrawn && stage === "holding");
    if (was && stage !== this.stood && stops) expectHeld(profile, stage, was, slots);
    if (stage === "holding" && this.withdrawn) this.clear = false;
  }
}

const expectHeld = (profile: Profile, stage: string, was: readonly number[], slots: readonly number[]): void => {
  expect(movedBetween(profile, was, slots), `at the stop into "${stage}"`).toEqual([]);
  expect(isDark(profile, slots), `dark at "${stage}"`).toBe(true);
};

type Said = Readonly<Record<string, unknown>> & { readonly kind: string };
const symptom: Said = { kind: "symptom", symptom: { symptom: "nothing-moves" } };

/** What a person says who gets on with it; `wrong`: that something is not as it should be. */
const next = (stage: string, wrong: boolean): readonly Said[] => {
  switch (stage) {
    case "asking":
      return wrong ? [symptom, { kind: "judge", result: "fail" }] : [{ kind: "judge", result: "pass" }];
    case "what-moved":
      return wrong ? [{ kind: "decline" }] : [{ kind: "moved", what: "nothing" }];
    case "what-next":
      return wrong ? [{ kind: "confirm" }] : [0, 1, 2, 3].map((offer) => ({ kind: "choose", offer }));
    case "own-address":
      return [{ kind: "told-apart", how: wrong ? "others-unplugged" : "own-address" }];
    case "by-hand":
      return [{ kind: "confirm" }, { kind: "judge", result: wrong ? "unsure" : "pass" }];
    case "paused":
      return [{ kind: "go-on" }];
    case "moving":
      return [{ kind: "differs", member: 1 }, { kind: "press" }];
    default:
      return [{ kind: "confirm" }];
  }
};

const happening = fc.oneof(
  { weight: 14, arbitrary: fc.record({ what: fc.constant("goes on"), wrong: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ what: fc.constant("frames"), count: fc.integer({ min: 1, max: 90 }) }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant("waits"), count: fc.integer({ min: 30, max: 200 }) }) },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom<readonly Said[]>(
        ...["freeze", "away", "again", "press", "slower", "back", "undo", "undo-differs", "return", "stop"].map(
          (kind) => [{ kind }],
        ),
        [{ kind: "name-fault", fault: "nothing" }],
        [
          { kind: "line-lost", universe: 1, words: "out" },
          { kind: "line-open", universe: 1 },
        ],
        [{ kind: "stood-still", time: 30 }],
      )
      .map((said) => ({ what: "says" as const, said })),
  },
);
const courses = fc.array(happening, { minLength: 8, maxLength: 40 });

/** So many times nothing is wrong. */
const goesOn = (times: number) => Array.from({ length: times }, () => ({ what: "goes on" as const, wrong: false }));

/** The cable comes out and goes in again. */
const CABLE: readonly Said[] = [
  { kind: "line-lost", universe: 1, words: "out" },
  { kind: "line-open", universe: 1 },
];
const cableOut = { what: "says" as const, said: CABLE };
const frozen = { what: "says" as const, said: [{ kind: "freeze" }] };
const frames = (count: number) => ({ what: "frames" as const, count });
const undone = { what: "says" as const, said: [{ kind: "undo" }] as readonly Said[] };
const undoneByRack = { what: "says" as const, said: [{ kind: "undo-differs" }] as readonly Said[] };

const MOVING = ["moving", "slow-start", "stirring"];
const MOST_FRAMES = 400;

/** Plays a run through a course, and says which stages it came through. */
const course = (
  wired: Wired,
  look: (batch: Batch) => Now,
  happenings: readonly (typeof happening extends fc.Arbitrary<infer What> ? What : never)[],
): ReadonlySet<string> => {
  const witness = new Witness(
    () => look(wired.batch),
    () => wired.at,
  );
  wired.onInput = ({ kind }) => witness.hears(kind);
  wired.onFrame = (frame) => witness.reads(frame);
  const say = (said: readonly Said[]) => {
    for (const one of said) wired.send({ answers: rackQuestionOf(wired.batch) ?? "", ...one } as Said).pass(1);
  };
  const goOn = (wrong: boolean) => {
    const now = rackQuestionOf(wired.batch);
    if (wrong || !MOVING.includes(look(wired.batch).stage)) say(next(look(wired.batch).stage, wrong));
    for (
      let n = 0;
      n < MOST_FRAMES && rackQuestionOf(wired.batch) === now && MOVING.includes(look(wired.batch).stage);
      n++
    )
      wired.pass(1);
  };
  say([{ kind: "begin" }, { kind: "line-open", universe: 1 }, { kind: "line-open", universe: 2 }]);
  for (const one of happenings) {
    if ("said" in one) say(one.said);
    else if ("wrong" in one) goOn(one.wrong);
    else if (one.what === "frames") wired.pass(one.count);
    else {
      wired.at += one.count;
      wired.pass(1);
    }
  }
  return witness.stages;
};

const nowOf = (session: Session, spot: Spot): Now => {
  const { stage, job } = session;
  return {
    stage: stage.kind,
    safetyPage:
      stage.kind === "holding" ||
      (stage.kind === "line-lost" && stage.back) ||
      (stage.kind === "by-hand" && stage.task.kind === "hold-point" && stage.task.point === "area-clear"),
    spots: [{ ...spot, profile: job.timeline.profile, known: session.commanded.stands !== undefined }],
  };
};

test("one fixture: whatever happens, nothing moves that nobody cleared, and every stop holds every axis", () => {
  const seen = new Set<string>();
  fc.assert(
    fc.property(courses, fc.boolean(), fc.boolean(), (happenings, attended, hands) => {
      const mode = attended ? "attended" : "hands-off";
      const job = jobOf(hands ? BY_HAND : STEPS, { mode, simulated: false, output: "test" });
      const rack = rackOfOne(openSession(job, "KM"), "r");
      const { spot } = memberAt(rack, 0);
      for (const stage of course(new Wired(rack), (batch) => nowOf(onlySession(batch), spot), happenings))
        seen.add(stage);
    }),
    {
      numRuns: 50,
      examples: [
        [[...goesOn(3), { what: "goes on" as const, wrong: true }, ...goesOn(40)], true, false],
        [[...goesOn(1), frames(30), undone, frames(20), ...goesOn(2), frames(40), undone, ...goesOn(5)], true, false],
        // Halted before the first frame of what was asked for, and after it.
        [[...goesOn(2), frozen, ...goesOn(1), frames(1), ...goesOn(3)], true, false],
        [[...goesOn(2), frames(1), frozen, ...goesOn(1), frames(1), ...goesOn(3)], true, false],
      ],
    },
  );
  expect([...AT_THE_HEAD.slice(0, 5), FROM_WHERE_IT_STANDS].filter((stage) => !seen.has(stage))).toEqual([]);
}, 120_000);

const rackNow = (batch: Batch): Now => {
  const { stage, members } = batch;
  const alone = stage.kind === "alone" ? memberAt(batch, stage.member) : undefined;
  const own = alone && nowOf(alone.session, alone.spot);
  return {
    stage: own?.stage ?? stage.kind,
    safetyPage: own?.safetyPage ?? stage.kind === "holding",
    spots: members.map(({ spot, session }) => ({ ...spot, known: session.commanded.stands !== undefined })),
  };
};

/** The second shares its address with the first. */
const GANGED = spots(2).map((one) => one.replace(/address: \d+ \}/, "address: 1, ganged: true }"));

test("a rack: the same, of every fixture on every universe", () => {
  const seen = new Set<string>();
  fc.assert(
    fc.property(courses, fc.boolean(), (happenings, ganged) => {
      const { plan, members } = rackJobOf({
        fixtures: [...(ganged ? GANGED : spots(2)), ...spots(2, 2, 4)],
        steps: ["{ sweep: Pan, seconds: 0.5, passes: 1 }", "{ hold: Iris, seconds: 0.5 }"],
        lines: [1, 2],
      });
      const wired = new Wired(openBatch(plan, members, "KM"));
      for (const stage of course(wired, rackNow, happenings)) seen.add(stage);
    }),
    {
      numRuns: 25,
      examples: [
        [[...goesOn(2), { what: "goes on" as const, wrong: true }, ...goesOn(40)], true],
        [[...goesOn(2), cableOut, ...goesOn(6)], false],
        [[...goesOn(1), frames(30), undone, ...goesOn(2), frames(30), undoneByRack, frames(30), ...goesOn(6)], false],
      ],
    },
  );
  expect(
    ["paused", "line-lost", "between", "own-address", FROM_WHERE_IT_STANDS].filter((stage) => !seen.has(stage)),
  ).toEqual([]);
}, 120_000);
