import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import type { RealOutput } from "../../../src/app/fixture/lines.ts";
import { secondsOf } from "../../../src/domain/units.ts";
import { frameClock } from "../../../src/io/clock/clocks.ts";
import { compile } from "../../../src/plan/compile.ts";
import { sample } from "../../../src/plan/sample.ts";
import type { Spot } from "../../../src/run/batch/batch.ts";
import { LineError } from "../../../src/run/ports.ts";
import { framesProcess } from "../../../src/run/shell/frame-process.ts";
import { built } from "../../kit/built.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { ptyPair } from "../../kit/pty.ts";
import { sequenceOf, shippedBench, shippedProfile } from "../../kit/shipped.ts";

const profile = shippedProfile("spot-16bit");
const spot: Spot = { universe: 1, address: 1, profile };
const compiled = (step: string) => compile(profile, sequenceOf(step), shippedBench()).steps[0]!;
const step = compiled("{ sweep: Pan, seconds: 2, passes: 1 }");
const long = compiled("{ sweep: Pan, seconds: 30, passes: 10 }");

/** Another process on an output, as far as a run hears of it. */
const begun = (output: RealOutput, file = join(built(), "app", "fixture", "frames-main.js")) => {
  const notes: Readonly<Record<string, unknown>>[] = [];
  const lines = [{ universe: 1, output, slots: 512 }];
  const apart = framesProcess({ code: pathToFileURL(file), lines, session: "of its own" }, (_, details) =>
    notes.push(details ?? {}),
  );
  const clock = frameClock();
  const mistakes: unknown[] = [];
  const onBeat = new Set<() => void>();
  const whenPlayed = new Set<(key: string) => void>();
  const sender = apart.frames({
    clock,
    spots: [spot],
    left: [],
    ears: {
      beat: (_gap, _stoodStill, send) => {
        send();
        for (const look of onBeat) look();
      },
      played: (key) => {
        for (const hear of whenPlayed) hear(key);
      },
      mistaken: (error) => mistakes.push(error),
    },
  });
  const stop = sender.begin();
  return {
    sender,
    clock,
    notes,
    mistakes,
    played: () => new Promise<string>((resolve) => whenPlayed.add(resolve)),
    beats: (count: number) =>
      new Promise<void>((resolve) => {
        let left = count;
        onBeat.add(() => {
          left -= 1;
          if (left === 0) resolve();
        });
      }),
    end: async () => {
      stop();
      await sender.close();
    },
  };
};

test("a step that another process plays: its frames come in their order to the last, and it knows where it stands meanwhile", async () => {
  const decoder = lineDecoder();
  const pair = ptyPair(decoder.take);
  const run = begun({ kind: "serial", path: pair.path });
  await run.sender.open(1, () => {});
  pair.taken();
  const stood: number[] = [];
  const look = setInterval(() => stood.push(run.sender.standing(run.clock.now()).frame), 1);
  const played = run.played();
  run.sender.play("k", [{ step, spots: [spot] }], 0);
  expect(await played).toBe("k");
  clearInterval(look);
  expect(run.sender.standing(run.clock.now())).toEqual({ frame: 0, after: 0 });
  await run.end();
  // A frame may be left out on a busy computer, and none comes before another.
  const samples = Array.from({ length: step.frames + 1 }, (_, n) => sample(profile, step, n).toString());
  let at = 0;
  for (const packet of decoder.packets) {
    const found = samples.indexOf(packet.slice(0, profile.slots).toString(), at);
    expect(found, "a frame of the step, not before the last").toBeGreaterThanOrEqual(at);
    at = found;
  }
  expect(decoder.packets.at(-1)?.slice(0, profile.slots).toString()).toBe(samples.at(-1));
  expect(Math.max(...stood)).toBeLessThanOrEqual(step.frames);
  expect(run.mistakes).toEqual([]);
  pair.pullOut();
});

test("where it stands is reckoned by the beat, whenever what is told of it is heard", async () => {
  const pair = ptyPair(() => {});
  const run = begun({ kind: "serial", path: pair.path });
  await run.sender.open(1, () => {});
  pair.taken();
  run.sender.play("k", [{ step: long, spots: [spot] }], 0);
  expect(run.sender.standing(run.clock.now()), "nothing is out yet").toEqual({ frame: 0, after: 0, unsent: true });
  while (run.sender.standing(run.clock.now()).frame === 0) await run.beats(1);
  const at = run.clock.now();
  const { frame, after, unsent } = run.sender.standing(at);
  expect(unsent, "now something is").toBe(false);
  expect(run.sender.standing(at + secondsOf(20)).frame).toBe(frame + 20);
  expect(run.sender.standing(at + secondsOf(20)).after).toBeCloseTo(after + secondsOf(20), 9);
  expect(run.sender.standing(at + 3600).frame, "it stays at its last frame").toBe(long.frames);
  await run.end();
  pair.pullOut();
});

test("an output that cannot be opened is refused with the words it would have here", async () => {
  const run = begun({ kind: "serial", path: "/dev/null" });
  const refused = await run.sender.open(1, () => {}).catch((error: unknown) => error);
  expect(refused).toBeInstanceOf(LineError);
  expect(refused).toMatchObject({ code: "not-a-port", message: expect.stringContaining("is not a serial port") });
  await run.end();
});

test("a process that dies: the run hears of it once, nothing opens any more, and the run can come to its end", async () => {
  const run = begun({ kind: "serial", path: "/dev/null" }, join(built(), "no-such-file.js"));
  await expect(run.sender.open(1, () => {})).rejects.toThrow("process that sends frames ended");
  await run.beats(8);
  expect([run.mistakes.length, run.notes.length]).toEqual([1, 1]);
  await run.end();
});
