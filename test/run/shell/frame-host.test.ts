import fc from "fast-check";
import { expect, test } from "vitest";
import { compile } from "../../../src/plan/compile.ts";
import type { Spot } from "../../../src/run/batch/batch.ts";
import type { PlayedPart } from "../../../src/run/batch/change.ts";
import { FrameHost } from "../../../src/run/shell/frame-host.ts";
import type { FromFrames, ToldBeat } from "../../../src/run/shell/frame-messages.ts";
import { type Beat, type FrameEars, onlyLine, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { handClock } from "../../kit/hand-clock.ts";
import { isDark, movedBetween } from "../../kit/held.ts";
import { RecordingLine } from "../../kit/recording-line.ts";
import { sequenceOf, shippedBench, shippedProfile } from "../../kit/shipped.ts";

const profile = shippedProfile("spot-16bit");
const spot: Spot = { universe: 1, address: 1, profile };
const playing = (step: string): readonly PlayedPart[] => [
  { step: compile(profile, sequenceOf(step), shippedBench()).steps[0]!, spots: [spot] },
];
const sweep = playing("{ sweep: Iris, seconds: 20, passes: 2 }");
const short = playing("{ snap: Iris, times: 1 }");

/** A host with its one line open, and a run at its other end that hears every beat, unless it is told not to. */
const hosted = async () => {
  const clock = handClock();
  const line = new RecordingLine();
  const told: FromFrames[] = [];
  const levers = { hears: true };
  const host = new FrameHost({ clock, lines: onlyLine(line), questions: new Map() }, (message) => {
    told.push(message);
    if (message.kind === "beat" && levers.hears) host.hear({ kind: "heard", beat: message.beat });
  });
  host.hear({ kind: "begin", spots: [spot], left: [] });
  host.hear({ kind: "open", request: 1, universe: 1, meeting: undefined });
  await Promise.resolve();
  let plays = 0;
  const play = (parts = sweep, standstills = 0) => {
    plays += 1;
    host.hear({ kind: "play", play: plays, standstills, key: `k${plays}`, parts, from: 0 });
  };
  const beats = (): readonly ToldBeat[] => told.filter((one) => one.kind === "beat");
  const stoodStill = () => beats().flatMap((beat) => beat.stoodStill ?? []);
  return { clock, line, told, levers, host, play, beats, stoodStill };
};

type Hosted = Awaited<ReturnType<typeof hosted>>;

/** From this frame on it is dark, and no axis is told to go anywhere. */
const expectHeldFrom = ({ line }: Hosted, from: number) => {
  expect(line.frames.length).toBeGreaterThan(from);
  for (const frame of line.frames.slice(from)) {
    expect(isDark(profile, frame)).toBe(true);
    expect(movedBetween(profile, line.frames[from - 1], frame)).toEqual([]);
  }
};

/** In the light, with the iris on its way. */
const LIT = 200;

test("what is said between two beats counts for the next: a stop is out with the very next frame", async () => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  expect(isDark(profile, rig.line.frames.at(-1))).toBe(false);
  rig.host.hear({ kind: "go-dark" });
  rig.clock.tick(3);
  expectHeldFrom(rig, LIT);
});

test.each([
  { because: "a lid closed for ten minutes", time: 600 },
  { because: "a program held for a second", time: 1 },
])("$because: dark before the next frame, and the run is told for how long", async ({ time }) => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  rig.clock.stall(time + 0.025);
  rig.clock.tick(3);
  expectHeldFrom(rig, LIT);
  expect(rig.stoodStill()).toEqual([expect.closeTo(time, 1)]);
});

test("less than a second without a frame is lateness: it goes on, and says what was left out", async () => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  rig.clock.stall(0.9);
  expect(rig.stoodStill()).toEqual([]);
  expect(isDark(profile, rig.line.frames.at(-1))).toBe(false);
  expect(rig.beats().at(-1)?.gap).toBeGreaterThan(30);
});

test("a run that says nothing for a second cannot stop anything: dark and held, told once, until it is heard again", async () => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  rig.levers.hears = false;
  rig.clock.tick(39);
  expect(isDark(profile, rig.line.frames.at(-1))).toBe(false);
  rig.clock.tick(200);
  expectHeldFrom(rig, LIT + 39);
  expect(rig.stoodStill()).toEqual([1]);
  rig.levers.hears = true;
  rig.clock.tick(100);
  expect(rig.stoodStill(), "it is heard again").toEqual([1]);
  rig.levers.hears = false;
  rig.clock.tick(100);
  expect(rig.stoodStill(), "and is silent once more").toEqual([1, 1]);
});

test("what was asked for before the run knew that nothing had been sent does not move; afterwards it does", async () => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  rig.clock.stall(3);
  rig.play(sweep, 0);
  rig.clock.tick(100);
  expectHeldFrom(rig, LIT);
  rig.play(sweep, 1);
  rig.clock.tick(LIT);
  expect(isDark(profile, rig.line.frames.at(-1))).toBe(false);
});

test("nothing plays: what stands lit at a question stays lit, and the run is told all the same", async () => {
  const rig = await hosted();
  rig.play(short);
  while (rig.beats().every(({ played }) => played === undefined)) rig.clock.tick();
  const stood = rig.line.frames.at(-1);
  rig.clock.stall(5);
  expect(rig.line.frames.at(-1)).toEqual(stood);
  expect(rig.stoodStill().length).toBe(1);
});

test("the run is gone: dark and held for the last frames, then every line is given back and nothing more is sent", async () => {
  const rig = await hosted();
  rig.play();
  rig.clock.tick(LIT);
  const over = rig.host.alone();
  rig.clock.tick(8);
  await over;
  rig.clock.tick(100);
  expectHeldFrom(rig, LIT);
  expect([rig.line.frames.length, rig.line.closed]).toEqual([LIT + 8, 1]);
});

test.each(["in a frame", "anywhere else"])(
  "a mistake of ours %s: dark, told once, and the beat goes on",
  async (where) => {
    const rig = await hosted();
    rig.play();
    rig.clock.tick(LIT);
    if (where === "anywhere else") rig.host.mistaken(new Error("Bug: on purpose"));
    else
      rig.line.onFrame = () => {
        throw new Error("Bug: on purpose");
      };
    rig.clock.tick(2);
    rig.play();
    rig.clock.tick(LIT);
    expectHeldFrom(rig, where === "anywhere else" ? LIT : LIT + 1);
    expect(rig.told.filter(({ kind }) => kind === "mistake")).toMatchObject([{ message: "Bug: on purpose" }]);
    expect(rig.beats().length).toBe(2 * LIT + 2);
  },
);

test("a line that is lost, and one that does not open, are told with their words", async () => {
  const rig = await hosted();
  rig.line.pull(1);
  rig.host.hear({ kind: "open", request: 2, universe: 1, meeting: undefined });
  for (let turns = 3; turns > 0; turns--) await Promise.resolve();
  const error = (words: string) => ({ kind: "line", code: "unplugged", message: words });
  expect(rig.told).toEqual([
    { kind: "done", request: 1, heard: undefined },
    { kind: "lost", request: 1, error: error("the cable is out") },
    { kind: "failed", request: 2, error: error("the test line is unplugged") },
  ]);
});

type Deed = "sweep" | "short" | "dark" | number;

/** A run that sends its frames itself, with what it is told of them. */
const sendingItself = async () => {
  const line = new RecordingLine();
  await line.open(() => {});
  const clock = handClock();
  const told: unknown[] = [];
  const ears: FrameEars = {
    beat: (_gap, _stoodStill, send) => told.push(seenIn(send())),
    played: () => {},
    mistaken: () => {},
  };
  const sender = sentHere(onlyLine(line))({ clock, spots: [spot], left: [], ears });
  sender.begin();
  let plays = 0;
  const play = (parts: readonly PlayedPart[]) => {
    plays += 1;
    sender.play(`k${plays}`, parts, 0);
  };
  return { clock, line, told, play, goDark: () => sender.goDark() };
};

const seenIn = ({ key, frame, isBefore, isStill }: Beat) => ({ key, frame, isBefore, isStill });

const doing = (
  deed: Deed,
  { clock, play, goDark }: Pick<Awaited<ReturnType<typeof sendingItself>>, "clock" | "play" | "goDark">,
) => {
  if (typeof deed === "number") clock.tick(deed);
  else if (deed === "dark") goDark();
  else play(deed === "sweep" ? sweep : short);
};

test("whatever is played and stopped: the same frames as the run itself would send, and the same is told of them", async () => {
  const deed: fc.Arbitrary<Deed> = fc.oneof(
    fc.constantFrom("sweep", "short", "dark"),
    fc.integer({ min: 1, max: 120 }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(deed, { maxLength: 12 }), async (deeds) => {
      const [there, here] = [await hosted(), await sendingItself()];
      for (const one of deeds) {
        doing(one, here);
        doing(one, { ...there, goDark: () => there.host.hear({ kind: "go-dark" }) });
      }
      expect(there.line.frames).toEqual(here.line.frames);
      expect(there.beats().map(seenIn)).toEqual(here.told);
    }),
    { numRuns: 40 },
  );
});
