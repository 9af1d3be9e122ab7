import { PracticeWatch } from "../../src/app/simulated/practice-watch.ts";
import { framesBefore, warmUp } from "../../src/app/simulated/sim-bench.ts";
import { simulatedJob } from "../../src/app/simulated/start.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { openBatch, rackOfOne } from "../../src/run/batch/batch.ts";
import type { EventBody } from "../../src/run/events/event.ts";
import type { HandTask } from "../../src/run/session/by-hand/task.ts";
import type { Job } from "../../src/run/session/job.ts";
import { openSession, type Session } from "../../src/run/session/session.ts";
import { onlyLine } from "../../src/run/shell/frame-sender.ts";
import { AllSeeing, observer } from "../../src/sim/observer/observer.ts";
import { SimulatedWatcher } from "../../src/sim/watcher.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { identifyingRack, type RackOfTests, rackJobOf, spots } from "../kit/driven-rack.ts";
import { ofOne } from "../kit/of-one.ts";
import { must } from "../kit/shipped.ts";
import { type Manner, type RackManner, ScriptedPerson, ScriptedRackPerson } from "./people.ts";
import { type Levers, type Recording, recorded } from "./recorder.ts";

const single = (job: Job, manner: Manner = {}, levers: Levers = {}, earlier: readonly EventBody[] = []) =>
  recorded(
    rackOfOne(openSession(job, "KM", earlier), "r"),
    ({ frame }) => {
      const person = new ScriptedPerson(manner, frame);
      return { ...ofOne(person, "r"), beat: () => person.beat() };
    },
    levers,
  );

const rack = (order: RackOfTests, manner: RackManner = {}, levers: Levers = {}) => {
  const { plan, members } = rackJobOf(order);
  return recorded(openBatch(plan, members, "KM"), ({ frame }) => new ScriptedRackPerson(manner, frame), levers);
};

const press = { kind: "press" } as const;
const fail = (symptom: "grinds" | "jerks", id: "Pan" | "Iris") =>
  [
    { kind: "symptom", symptom: { symptom, function: id } },
    { kind: "judge", result: "fail" },
  ] as const;
const differs = (member: number) => ({ kind: "differs", member }) as const;

const THREE = ["{ sweep: Pan, seconds: 4, passes: 2 }", "{ snap: Iris, times: 2 }", "in-and-out: Prism1"];
const PAN = "sweep-pan";
/** At the same place of its travel, on the way there and on the way back. */
const TWICE = [
  [120, press],
  [260, press],
] as const;

const askedAbout = ({ stage, view }: Session): string | undefined =>
  stage.kind === "asking" ? view.steps[stage.index]?.id : undefined;
const taskOf = ({ stage }: Session): HandTask | undefined => (stage.kind === "by-hand" ? stage.task : undefined);

type Answers = NonNullable<Manner["answers"]>;

/** Pan grinds whenever it is asked about; everything else as `more` says. */
const grinding =
  (more: Answers = () => undefined): Answers =>
  (session) =>
    askedAbout(session) === PAN ? fail("grinds", "Pan") : more(session);

/** Answers that are given once, each the first time its turn comes. */
const once = (...turns: readonly Answers[]): Answers => {
  const left = [...turns];
  return (session) => {
    for (const [index, turn] of left.entries()) {
      const said = turn(session);
      if (!said) continue;
      left.splice(index, 1);
      return said;
    }
    return undefined;
  };
};

const HANDS = [
  "inspect: outside",
  "power-up: fixture",
  "sweep: Iris",
  "hold-point: opening",
  "{ inspect: [capacitors, iris-leaves] }",
  "{ clean: front-lens, id: clean }",
  "hold-point: closing",
  "reading: electrical-safety",
  "{ power-up: fixture, id: last-power-up }",
];

/** The physical fixture, watched by the simulated watcher: with `set` in it. */
const simulated = (set: readonly string[], sequence: string, mode: "attended" | "hands-off", practising = false) => {
  const names = { profile: "spot-16bit", sequence, bench: "bench" };
  const made = must(
    simulatedJob(fileLibrary(), { names, address: 1, set, seed: 7, drawFrom: "all", copy: "drawn" }, mode),
  );
  const { line, build, hands } = made.bench;
  const session = openSession(made.job, "KM");
  warmUp(line, framesBefore(session));
  let beside: PracticeWatch | undefined;
  const watcher = () => {
    const eyes = new SimulatedWatcher(line, observer(build, 7), 0, hands);
    beside = practising ? new PracticeWatch(eyes, line, new AllSeeing(build)) : undefined;
    return beside ?? eyes;
  };
  return recorded(rackOfOne(session, "r"), watcher, {}, { byHand: hands.did, line: onlyLine(line) }).then((lines) => [
    ...lines,
    ...(beside?.shown ?? []).map((shown) => JSON.stringify(shown)),
  ]);
};

const stoppedAfterOne = async (): Promise<readonly EventBody[]> => {
  const run = new Driven(jobOf(THREE)).started().playOut().send({ kind: "judge", result: "pass" });
  return run.send({ kind: "stop" }, 40).bodies;
};

/** Iris failed now and then in an earlier run, and this one plays it again. */
const replayed = (): Job => {
  const job = jobOf(["sweep: Iris"], { replays: "before" });
  const before = (result: "fail" | "pass") => [
    { kind: "step-started", step: "sweep-iris", attempt: 1, pace: 1 } as const,
    {
      kind: "step-judged",
      step: "sweep-iris",
      attempt: 1,
      result,
      symptoms: result === "fail" ? [{ symptom: "jerks", function: "Iris" } as const] : [],
      note: "",
      watched: "attended",
      lit_min: 1,
      attitude: "standing",
      on_watch_min: 1,
      rig: { worst_late_s: 0, dropped: 0, lost: false },
    } as const,
  ];
  const bodies: readonly EventBody[] = [job.opening, ...before("pass"), ...before("fail")];
  return { ...job, past: bodies.map((body) => ({ run: "before", person: "KM", body })) };
};

const SWEEP = "{ sweep: Pan, seconds: 4, passes: 2 }";
const TWO_LINES = { fixtures: [...spots(2), ...spots(2, 2, 3)], steps: [SWEEP, "sweep: CTO"], lines: [1, 2] };
const rackOf = (count: number): RackOfTests => ({ fixtures: spots(count), steps: [SWEEP, "sweep: CTO"] });

/** Every kind of run, told by what is done in it. Recorded as it goes today; nobody looks here for what is right. */
export const STORIES: Readonly<Record<string, () => Promise<Recording>>> = {
  "single: everything passes": () => single(jobOf(THREE)),
  "single: pressed at a place, a test is chosen, back there by hand, then on": () =>
    single(jobOf(["{ sweep: Pan, seconds: 4, passes: 6 }", ...THREE.slice(1)]), {
      at: {
        [PAN]: [0, 1, 2, 3, 4, 5].map((pass) => [157 + 170 * pass, press] as const),
        spot: [
          [30, { kind: "nudge", towards: "high" }],
          [50, { kind: "faster" }],
          [70, { kind: "slower" }],
          [90, { kind: "confirm" }],
        ],
      },
      answers: grinding(
        once(
          ({ stage }) => (stage.kind === "placed" ? [{ kind: "return" }] : undefined),
          ({ stage }) => (stage.kind === "placed" ? [{ kind: "choose", offer: 0 }] : undefined),
          ({ stage }) =>
            stage.kind === "what-next"
              ? [
                  {
                    kind: "choose",
                    offer: Math.max(
                      0,
                      stage.offers.findIndex(({ kind }) => kind !== "inspection"),
                    ),
                  },
                ]
              : undefined,
        ),
      ),
    }),
  "single: hands-off, silence confirmed, one press among it": () =>
    single(jobOf(THREE, { mode: "hands-off" }), { at: { "snap-iris": [[60, press]] } }),
  "single: hands-off, nobody was there": () =>
    single(jobOf(THREE, { mode: "hands-off" }), {
      answers: ({ stage }) => (stage.kind === "confirming" ? [{ kind: "decline" }] : undefined),
    }),
  "single: a press in the first moments of the next step": () =>
    single(jobOf(THREE, { mode: "hands-off" }), { at: { "snap-iris": [[1, press]] } }),
  "single: frozen, again, slower, back, away": () =>
    single(jobOf(THREE), {
      at: {
        [PAN]: [
          [50, { kind: "freeze" }],
          [90, { kind: "again" }],
          [120, { kind: "slower" }],
        ],
        "snap-iris": [
          [20, { kind: "back" }],
          [25, { kind: "away" }],
        ],
      },
    }),
  "single: taken back, asked again, left in a question": () =>
    single(jobOf(THREE), {
      answers: once(
        (session) => (askedAbout(session) === "snap-iris" ? [{ kind: "undo" }] : undefined),
        (session) =>
          askedAbout(session) === PAN ? [{ kind: "note", text: "loud" }, ...fail("jerks", "Pan")] : undefined,
        (session) =>
          askedAbout(session) === "in-and-out-prism1" ? [{ kind: "away" }, { kind: "confirm" }] : undefined,
      ),
    }),
  "single: nothing moves, so it is stirred to find out what it is set to": () =>
    single(jobOf(["identify: fixture", ...THREE]), {
      answers: once(
        (session) =>
          askedAbout(session) === "identify-fixture"
            ? [{ kind: "symptom", symptom: { symptom: "nothing-moves" } }, { kind: "confirm" }]
            : undefined,
        ({ stage }) => (stage.kind === "what-moved" ? [{ kind: "moved", what: "Tilt" }] : undefined),
        ({ stage }) => (stage.kind === "what-moved" ? [{ kind: "moved", what: "nothing" }] : undefined),
      ),
    }),
  "single: mains on, then measured by stopwatch": () =>
    single(jobOf(["power-up: fixture", "{ stopwatch: Pan }"]), { at: { "stopwatch-pan": [[150, press]] } }),
  "single: a frame was not taken, so the step is repeated": () => single(jobOf(THREE), {}, { dropped: [400] }),
  "single: the cable is out in a movement": () =>
    single(jobOf(THREE), { at: { [PAN]: TWICE }, answers: grinding() }, { cable: [{ at: 350, universe: 1 }] }),
  "single: the cable is out in the slow movement, and again in the step": () =>
    single(jobOf(THREE), {}, { cable: [40, 500].map((at) => ({ at, universe: 1 })) }),
  "single: the computer slept for a minute": () => single(jobOf(THREE), {}, { asleep: { at: 350, frames: 2400 } }),
  "single: stopped by a signal": () => single(jobOf(THREE), {}, { signal: { at: 350, name: "SIGTERM" } }),
  "single: stopped by hand": () => single(jobOf(THREE), { at: { "snap-iris": [[30, { kind: "stop" }]] } }),
  "single: the disk is full": () => single(jobOf(THREE), {}, { diskFullAt: 5 }),
  "single: gone on with after it was stopped": async () => single(jobOf(THREE), {}, {}, await stoppedAfterOne()),
  "single: played again, and once more": () =>
    single(replayed(), {
      answers: once((session) => (taskOf(session)?.kind === "once-more" ? [{ kind: "confirm" }] : undefined)),
    }),
  "single: work by hand, a bad look repaired, signed": () =>
    single(jobOf(HANDS), {
      answers: once(
        (session) => (askedAbout(session) === "sweep-iris" ? fail("grinds", "Iris") : undefined),
        ({ stage }) =>
          stage.kind === "by-hand" && stage.task.kind === "look" && stage.task.inspection === "iris-leaves"
            ? [
                { kind: "note", text: "bent" },
                { kind: "judge", result: "fail" },
              ]
            : undefined,
        (session) =>
          taskOf(session)?.kind === "fault" ? [{ kind: "name-fault", fault: "iris-leaf-bent" }] : undefined,
        (session) =>
          taskOf(session)?.kind === "mend"
            ? [
                { kind: "filled", what: "part", text: "iris" },
                { kind: "filled", what: "minutes", text: "12" },
                { kind: "confirm" },
              ]
            : undefined,
      ),
    }),
  "single: water in it, so it gets no power": () =>
    single(jobOf(HANDS), {
      answers: once(
        ({ stage }) =>
          stage.kind === "by-hand" && stage.task.kind === "looks" && stage.task.inspections.includes("water")
            ? [{ kind: "choose", offer: stage.task.inspections.indexOf("water") }]
            : undefined,
        ({ stage }) =>
          stage.kind === "by-hand" && stage.task.kind === "look" && stage.task.inspection === "water"
            ? [{ kind: "judge", result: "fail" }]
            : undefined,
        (session) => (taskOf(session)?.kind === "blocked" ? [{ kind: "decline" }] : undefined),
      ),
    }),
  "simulated: iris leaf kinked, quick": () => simulated(["iris-leaf-kinked"], "quick", "attended"),
  "simulated: tilt slack, practised": () => simulated(["tilt-drive-slack"], "practice", "attended", true),
  "simulated: prism arm bent, from truck to shelf": () => simulated(["prism-arm-bent"], "check-in", "hands-off"),
  "rack: nobody differs": () => rack(rackOf(4)),
  "rack: one differs, and is looked at alone": () =>
    rack(rackOf(4), {
      at: { [PAN]: [[150, differs(1)]] },
      answers: (session) => (session.stage.kind === "asking" ? fail("grinds", "Pan") : undefined),
    }),
  "rack: one of them, named afterwards": () =>
    rack(rackOf(4), {
      at: { [PAN]: [[150, press]] },
      answersRack: ({ stage }) => (stage.kind === "which" ? [differs(2), { kind: "confirm" }] : undefined),
    }),
  "rack: a break, in which one goes and another takes its place": () =>
    rack(rackOf(4), {
      at: { [PAN]: [[150, { kind: "away" }]] },
      answersRack: ({ stage, record }) =>
        stage.kind === "paused" && record.runs === 4
          ? [{ kind: "withdraw", member: 0, why: "dead" }, { kind: "swap", member: 1, serial: "N1" }, { kind: "go-on" }]
          : undefined,
    }),
  "rack: all on one address, and one is told apart": () =>
    rack(
      {
        fixtures: [1, 2, 3].map(
          (n) =>
            `{ serial: G${n}, profile: spot-16bit, shelf: top, place: "${n}", universe: 1, address: 1, ganged: true }`,
        ),
        steps: [SWEEP],
      },
      { at: { [PAN]: [[150, differs(1)]] } },
    ),
  "rack: mains in stages": () =>
    rack({
      fixtures: spots(4).map((one) => one.replace(" }", ", circuit: A }")),
      steps: ["power-up: fixture", SWEEP],
      more: "circuits:\n  A: { rating_a: 25, volts: 230 }",
    }),
  "rack: one of two cables is out, and it is waited for": () =>
    rack(TWO_LINES, {}, { cable: [{ at: 350, universe: 2 }] }),
  "rack: the computer slept for a minute": () => rack(rackOf(3), {}, { asleep: { at: 350, frames: 2400 } }),
  "rack: stopped by a signal": () => rack(rackOf(3), {}, { signal: { at: 350, name: "SIGTERM" } }),
  "rack: the disk is full": () => rack(rackOf(3), {}, { diskFullAt: 12 }),
  "rack: stopped while one is looked at alone": () =>
    rack(rackOf(3), { at: { [PAN]: [[150, differs(1)]] } }, { signal: { at: 1200, name: "SIGINT" } }),
  "rack: a cable is out while one is looked at alone": () =>
    rack(rackOf(3), { at: { [PAN]: [[150, differs(1)]] } }, { cable: [{ at: 1200, universe: 1 }] }),
  "rack: a frame was not taken": () => rack(rackOf(3), {}, { dropped: [400] }),
  "rack: nobody was there": () =>
    rack(rackOf(3), {
      answersRack: ({ stage }) => (stage.kind === "confirming" ? [{ kind: "decline" }] : undefined),
    }),
  "rack: who really moves at each address": () => {
    const { batch } = identifyingRack({ fixtures: spots(3), steps: [] });
    const manner: RackManner = {
      answersRack: ({ stage }) =>
        stage.kind === "which" ? [differs([1, 0, 2][stage.next.turn] ?? 0), { kind: "confirm" }] : undefined,
    };
    return recorded(batch, ({ frame }) => new ScriptedRackPerson(manner, frame));
  },
};
