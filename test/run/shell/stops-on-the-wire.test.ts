import { afterEach, describe, expect, test } from "vitest";
import { asItStood } from "../../../src/app/rack/kept-rack.ts";
import type { Profile } from "../../../src/data/profile/profile.ts";
import { secondsOf } from "../../../src/domain/units.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { artNetLine, sacnLine } from "../../../src/io/network/lines.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import {
  type Batch,
  memberAt,
  onlySession,
  openBatch,
  rackOfOne,
  rackQuestionOf,
} from "../../../src/run/batch/batch.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { rackViewOf } from "../../../src/run/events/rack-view.ts";
import type { RackInput } from "../../../src/run/machine/input.ts";
import { type Clock, type DmxLine, LineError, type Watcher } from "../../../src/run/ports.ts";
import { openSession, type Session } from "../../../src/run/session/session.ts";
import { diagnosedHere } from "../../../src/run/shell/diagnosis-thread.ts";
import { type OpenedLines, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { loopbackAddress, type Receiver, receiverAt } from "../../io/network/receiver.ts";
import { jobOf } from "../../kit/driven.ts";
import { rackJobOf, spots } from "../../kit/driven-rack.ts";
import { isDark, movedBetween } from "../../kit/held.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { ptyPair } from "../../kit/pty.ts";

/** A line with this end of it, read by code that shares nothing with what writes it. */
interface Wire {
  readonly line: DmxLine;
  /** Slots of every packet that has arrived, slot 1 first. */
  packets(): readonly (readonly number[])[];
}

const closings: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closings.splice(0)) await close();
});

const overSerial = async (): Promise<Wire> => {
  const decoder = lineDecoder();
  const pair = ptyPair(decoder.take);
  closings.push(() => pair.pullOut());
  const line = framedLine(pair.path);
  const open: DmxLine["open"] = async (...args) => {
    await line.open(...args);
    pair.taken();
  };
  return { line: { ...line, open }, packets: () => decoder.packets };
};

/** A packet that says that its stream ends repeats what was sent last: it is no frame of its own. */
const STREAM_ENDS = 0x40;
const overSacn = async (): Promise<Wire> => {
  const address = loopbackAddress();
  const receiver = await receiverAt(address, 5568);
  return {
    line: sacnLine("net", 1, address),
    packets: readOnce(receiver, (packet) =>
      ((packet[112] ?? 0) & STREAM_ENDS) === 0 ? [...packet.subarray(126)] : undefined,
    ),
  };
};

const overArtNet = async (): Promise<Wire> => {
  const address = loopbackAddress();
  const receiver = await receiverAt(address, 6454);
  return { line: artNetLine("net", 1, address), packets: readOnce(receiver, (packet) => [...packet.subarray(18)]) };
};

/** Each packet is read once, however often it is asked what has come. */
const readOnce = ({ packets }: Receiver, slotsIn: (packet: Buffer) => readonly number[] | undefined) => {
  const slots: (readonly number[])[] = [];
  let read = 0;
  return () => {
    for (; read < packets.length; read++) {
      const one = slotsIn(packets[read] ?? Buffer.alloc(0));
      if (one) slots.push(one);
    }
    return slots;
  };
};

const WIRES = [
  ["a serial port", overSerial],
  ["sACN on loopback", overSacn],
  ["Art-Net on loopback", overArtNet],
] as const;

type Said = Readonly<Record<string, unknown>> & { readonly kind: string };

/** What somebody does at a bench, told by the stage that lies open and, while it moves, by the frame. */
interface Script {
  readonly stageOf: (batch: Batch) => string;
  readonly at: (batch: Batch, frame: number) => Said | "the cable comes out" | undefined;
  readonly answer: (batch: Batch) => readonly Said[];
}

/** From here on this stage lay open, after so many packets. */
interface Mark {
  readonly stage: string;
  readonly from: number;
}

const MOVES = ["moving", "slow-start", "stirring"];
/** A question stays open for so many frames, so that there is something to be read round it. */
const FRAMES_AT_A_QUESTION = 6;

/** A packet has arrived, and whoever sent it knows that it has left: until then the line takes no other. */
const TURNS_TO_SETTLE = 3;

/** Plays a run over a wire, frame by frame, and says when which stage began. */
const played = async (opening: Batch, script: Script, wire: Wire) => {
  const { line } = wire;
  const marks: Mark[] = [];
  const events: { readonly run: string; readonly body: EventBody }[] = [];
  let taken = 0;
  /** So many will have arrived once the last that was sent is there; a network line repeats its last frame when it opens again. */
  let onTheirWay = 0;
  let state: Batch | undefined;
  let hear: (input: RackInput) => void = () => {};
  let lost: (error: LineError) => void = () => {};
  let open = false;
  let stood = 0;
  /** The line was still busy with the frame before: nothing here depends on how fast it is. */
  let waiting: Uint8Array | undefined;
  let asked: string | undefined;

  /** No time passes meanwhile: how long a port takes to be given back is the computer's. */
  let pulling = false;
  const pull = async () => {
    open = false;
    pulling = true;
    waiting = undefined;
    await line.close();
    pulling = false;
    lost(new LineError("unplugged", "the cable is out"));
  };
  const lines: OpenedLines = {
    open: async (_universe, gone) => {
      lost = gone;
      await line.open(gone);
      open = true;
    },
    send: (_universe, levels) => {
      if (!open) return "dropped";
      taken += 1;
      onTheirWay = wire.packets().length + 1;
      if (line.send(levels) === "dropped") waiting = levels.slice();
      return "sent";
    },
    close: async () => {
      open = false;
      await line.close();
    },
  };
  const watcher: Watcher = {
    listen: (listener) => {
      hear = listener;
    },
    show: (next) => {
      state = next;
      const stage = script.stageOf(next);
      if (marks.at(-1)?.stage !== stage) marks.push({ stage, from: Math.max(wire.packets().length, onTheirWay) });
    },
    close: () => {},
  };
  const say = (said: Said) => hear({ answers: (state && rackQuestionOf(state)) ?? "", ...said } as RackInput);
  const whileMoving = (now: Batch) => {
    const does = script.at(now, shell.frame());
    if (does === "the cable comes out") void pull();
    else if (does) say(does);
  };
  const atQuestion = (now: Batch) => {
    const question = rackQuestionOf(now);
    stood = question === asked ? stood + 1 : 0;
    asked = question;
    if (stood === FRAMES_AT_A_QUESTION) for (const said of script.answer(now)) say(said);
  };
  const beat = () => {
    if (state === undefined) return;
    if (MOVES.includes(script.stageOf(state))) whileMoving(state);
    else atQuestion(state);
  };
  const clock: Clock = {
    now: () => secondsOf(ticks),
    date: () => "2026-01-01T00:00:00.000Z",
    start: (onTick) => {
      let running = true;
      let quiet = 0;
      const tick = () => {
        if (waiting && line.send(waiting) === "sent") waiting = undefined;
        quiet = !shell.busy() && !pulling && wire.packets().length >= taken ? quiet + 1 : 0;
        if (quiet >= TURNS_TO_SETTLE) {
          quiet = 0;
          onTick({ frame: ticks++, late: 0 });
          beat();
        }
        if (running) setImmediate(tick);
      };
      setImmediate(tick);
      return () => {
        running = false;
      };
    },
  };
  let ticks = 0;
  const memory = memoryJournal();
  const shell: Shell = new Shell(opening, {
    clock,
    frames: sentHere(lines),
    journal: {
      ...memory,
      append: async (event) => {
        events.push(event);
        await memory.append(event);
      },
    },
    watcher,
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosedHere,
    questions: new Map(),
    byHand: () => {},
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "test",
  });
  await shell.run();
  while (wire.packets().length < taken) await new Promise((resolve) => setImmediate(resolve));
  const bodiesOf = (run: string) => events.flatMap((event) => (event.run === run ? [event.body] : []));
  return { marks, packets: wire.packets(), bodiesOf };
};

type Played = Awaited<ReturnType<typeof played>>;

interface Spot {
  readonly address: number;
  readonly profile: Profile;
}
const slotsOf = (packet: readonly number[], { address, profile }: Spot) =>
  packet.slice(address - 1, address - 1 + profile.slots);

/** Everything dark, and no axis told anything else, from the last frame before a stage to the first after it. */
const expectHeld = (stage: string, { marks, packets }: Played, all: readonly Spot[]): void => {
  const stops = marks.flatMap((mark, n) =>
    mark.stage === stage && mark.from > 0 ? [{ from: mark.from, to: marks[n + 1]?.from ?? packets.length }] : [],
  );
  expect(stops.length, `stops into "${stage}"`).toBeGreaterThan(0);
  for (const { from, to } of stops)
    for (const spot of all)
      for (let n = from; n < to; n++) {
        const [before, now] = [slotsOf(packets[n - 1] ?? [], spot), slotsOf(packets[n] ?? [], spot)];
        expect(movedBetween(spot.profile, before, now), `"${stage}", packet ${n}`).toEqual([]);
        expect(isDark(spot.profile, now), `"${stage}" is dark in packet ${n}`).toBe(true);
      }
};

/** Nothing at all goes out before the first safety page is answered. */
const expectSilentBefore = ({ marks, packets }: Played): void => {
  expect(marks.find(({ stage }) => stage === "slow-start")?.from).toBe(0);
  expect(packets.length).toBeGreaterThan(100);
};

/** A head is told to go no faster than 60 degrees in a second, from where it was told to stand. */
const expectSlowStarts = ({ marks, packets }: Played, { address, profile }: Spot): void => {
  const pan = profile.functions.get("Pan");
  if (pan?.kind !== "travel") throw new Error("this fixture has no pan");
  const panOf = (packet: readonly number[] = []) => 256 * (packet[address - 1] ?? 0) + (packet[address] ?? 0);
  const most = (60 / 40 / 540) * 65535;
  for (const [n, { stage, from }] of marks.entries()) {
    if (stage !== "slow-start") continue;
    for (let at = Math.max(1, from); at < (marks[n + 1]?.from ?? packets.length); at++)
      expect(
        Math.abs(panOf(packets[at]) - panOf(packets[at - 1])),
        `packet ${at} of a slow start from ${from}`,
      ).toBeLessThanOrEqual(most);
  }
};

/** The first frame of a run that is taken up again tells every axis to stand where it was last told to. */
const expectGoesOnFrom = (before: Played, after: Played, all: readonly Spot[]): void => {
  for (const spot of all) {
    const [last, first] = [slotsOf(before.packets.at(-1) ?? [], spot), slotsOf(after.packets[0] ?? [], spot)];
    expect(movedBetween(spot.profile, last, first), `the fixture at ${spot.address}`).toEqual([]);
    expect(isDark(spot.profile, first), `the fixture at ${spot.address}`).toBe(true);
  }
};

const GRINDS: readonly Said[] = [
  { kind: "symptom", symptom: { symptom: "grinds", function: "Pan" } },
  { kind: "judge", result: "fail" },
];
/** Agrees to whatever is asked; pan grinds. */
const answersAt = (session: Session): readonly Said[] => {
  const { stage, view } = session;
  if (stage.kind === "asking" && view.steps[stage.index]?.id === "sweep-pan") return GRINDS;
  if (stage.kind === "paused") return [{ kind: "go-on" }];
  if (stage.kind === "line-lost" && !stage.back) return [];
  return stage.kind === "by-hand" && ["look", "looks"].includes(stage.task.kind)
    ? [{ kind: "judge", result: "pass" }]
    : [{ kind: "confirm" }];
};

const STEPS = [
  "{ sweep: Pan, seconds: 1.5, passes: 2 }",
  "{ inspect: [menu-settings] }",
  "{ sweep: Tilt, seconds: 1.5, passes: 2 }",
  // With the beam open.
  "{ sweep: Iris, seconds: 1.5, passes: 2 }",
];
const single = (at: (session: Session, frame: number) => ReturnType<Script["at"]>): Script => ({
  stageOf: (batch) => onlySession(batch).stage.kind,
  at: (batch, frame) => at(onlySession(batch), frame),
  answer: (batch) => answersAt(onlySession(batch)),
});
const job = () => jobOf(STEPS, { address: 33, simulated: false });
const spotOf = (session: Session): Spot => ({ address: 33, profile: session.job.timeline.profile });
const isAt = ({ stage }: Session, id: string): boolean => stage.kind === "moving" && stage.step.id === id;

const SLOW = 100_000;

describe.each(WIRES)("over %s, a fixture", (_, wired) => {
  test(
    "holds every axis and goes dark at a halt, by hand, when the line is back, at what next and at the end; it starts silently, and slowly",
    async () => {
      const session = openSession(job(), "KM");
      const halted = new Set<string>();
      const once = (name: string): boolean => !halted.has(name) && halted.add(name) !== undefined;
      const script = single((now, frame) => {
        if (isAt(now, "sweep-pan") && frame === 70 && once("halt")) return { kind: "freeze" };
        if (isAt(now, "sweep-iris") && frame === 90 && once("halt in the light")) return { kind: "freeze" };
        if (isAt(now, "sweep-tilt") && frame === 60 && once("cable")) return "the cable comes out";
        return undefined;
      });
      const run = await played(rackOfOne(session, "r"), script, await wired());
      for (const stage of ["paused", "by-hand", "line-lost", "what-next", "finished"])
        expectHeld(stage, run, [spotOf(session)]);
      expectSilentBefore(run);
      expectSlowStarts(run, spotOf(session));
    },
    SLOW,
  );

  test(
    "stopped in a movement it holds; gone on with later it is silent until the safety page is answered anew",
    async () => {
      const session = openSession(job(), "KM");
      const stops = single((now, frame) => (isAt(now, "sweep-pan") && frame === 70 ? { kind: "stop" } : undefined));
      const first = await played(rackOfOne(session, "r"), stops, await wired());
      expectHeld("finished", first, [spotOf(session)]);
      const resumed = openSession(job(), "KM", first.bodiesOf("r"));
      const second = await played(
        rackOfOne(resumed, "r"),
        single(() => undefined),
        await wired(),
      );
      expectSilentBefore(second);
      expectGoesOnFrom(first, second, [spotOf(resumed)]);
      expectHeld("finished", second, [spotOf(resumed)]);
      expectSlowStarts(second, spotOf(resumed));
    },
    SLOW,
  );
});

const stageOfRack = (batch: Batch): string => {
  const { stage } = batch;
  return stage.kind === "alone" ? memberAt(batch, stage.member).session.stage.kind : stage.kind;
};

const answersOfRack = (batch: Batch): readonly Said[] => {
  const { stage } = batch;
  if (stage.kind === "alone") return answersAt(memberAt(batch, stage.member).session);
  if (stage.kind === "line-lost" && !stage.back) return [];
  return [{ kind: stage.kind === "paused" ? "go-on" : "confirm" }];
};

describe.each(WIRES)("over %s, a rack", (_, wired) => {
  test(
    "holds every axis of every fixture and goes dark in a break, when the line is back, between the passes, alone and at the end",
    async () => {
      const { plan, members } = rackJobOf({
        fixtures: spots(3),
        steps: ["{ sweep: Pan, seconds: 1.5, passes: 2 }", "{ sweep: Tilt, seconds: 1.5, passes: 2 }"],
      });
      const all = members.map(({ spot: { address, profile } }) => ({ address, profile }));
      const done = new Set<string>();
      const once = (name: string): boolean => !done.has(name) && done.add(name) !== undefined;
      const script: Script = {
        stageOf: stageOfRack,
        at: ({ stage }, frame) => {
          if (stage.kind !== "moving") return undefined;
          if (stage.next.index === 0 && frame === 50 && once("break")) return { kind: "away" };
          if (stage.next.index === 0 && frame === 60 && once("differs")) return { kind: "differs", member: 1 };
          if (stage.next.index === 1 && frame === 60 && once("cable")) return "the cable comes out";
          return undefined;
        },
        answer: answersOfRack,
      };
      const run = await played(openBatch(plan, members, "KM"), script, await wired());
      for (const stage of ["paused", "line-lost", "between", "finished"]) expectHeld(stage, run, all);
      expectSilentBefore(run);
      for (const spot of all) expectSlowStarts(run, spot);
    },
    SLOW,
  );

  test.each(["moving", "alone"] as const)(
    "stopped while it is %s it holds every axis of every fixture",
    async (stopAt) => {
      const { plan, members } = rackJobOf({
        fixtures: spots(2),
        steps: ["{ sweep: Pan, seconds: 1.5, passes: 2 }"],
      });
      let pressed = false;
      const pressOnce = (): Said | undefined => {
        const first = !pressed;
        pressed = true;
        return first ? { kind: "differs", member: 1 } : undefined;
      };
      const script: Script = {
        stageOf: stageOfRack,
        at: ({ stage }, frame) => {
          if (frame < 50) return undefined;
          if (stage.kind === stopAt) return { kind: "stop" };
          return stage.kind === "moving" ? pressOnce() : undefined;
        },
        answer: answersOfRack,
      };
      const run = await played(openBatch(plan, members, "KM"), script, await wired());
      expectHeld(
        "finished",
        run,
        members.map(({ spot: { address, profile } }) => ({ address, profile })),
      );
    },
    SLOW,
  );

  test.each([
    { because: "stopped in a movement", stopAt: "moving", frame: 47 },
    { because: "stopped before the fixtures that differed", stopAt: "between", frame: 0 },
  ])(
    "$because and gone on with later: silent until the safety page is answered anew, then slowly from where each was left",
    async ({ stopAt, frame: stopFrame }) => {
      const order = {
        fixtures: spots(3),
        steps: ["{ sweep: Pan, seconds: 1.5, passes: 2 }", "{ sweep: Tilt, seconds: 1.5, passes: 2 }"],
      };
      const differed = new Set<string>();
      const script = (stops: "stops" | "goes on"): Script => ({
        stageOf: stageOfRack,
        at: ({ stage }, frame) => {
          if (stage.kind !== "moving") return undefined;
          if (stage.next.index === 1 && frame > 30 && differed.size < 1)
            return differed.add("S2") && { kind: "differs", member: 1 };
          return stops === "stops" && stopAt === "moving" && stage.next.index === 1 && frame === stopFrame
            ? { kind: "stop" }
            : undefined;
        },
        answer: (batch) =>
          stops === "stops" && batch.stage.kind === stopAt ? [{ kind: "stop" }] : answersOfRack(batch),
      });
      const job = rackJobOf(order);
      const first = await played(openBatch(job.plan, job.members, "KM"), script("stops"), await wired());
      const view = rackViewOf(first.bodiesOf("r"));
      const members = view.members.map(({ run }) => first.bodiesOf(run));
      const again = asItStood(rackJobOf(order), { view, members });
      const second = await played(openBatch(again.plan, again.members, "KM", view), script("goes on"), await wired());
      const all = again.members.map(({ spot: { address, profile } }) => ({ address, profile }));
      expectHeld("finished", first, all);
      expectSilentBefore(second);
      expectGoesOnFrom(first, second, all);
      for (const spot of all) expectSlowStarts(second, spot);
      expectHeld("finished", second, all);
    },
    SLOW,
  );
});
