import { expect, test } from "vitest";
import { LineError } from "../../src/run/ports.ts";
import { HEALTHY } from "../../src/sim/fixture.ts";
import { SimLine } from "../../src/sim/line.ts";
import type { Comparison } from "../../src/sim/scene.ts";
import { part, universe } from "./kit/drive.ts";
import { hastySpot } from "./kit/fixtures.ts";

const rig = (...addresses: readonly number[]) => {
  const line = new SimLine(
    addresses.map((startAddress) => ({ build: { ...hastySpot(), startAddress }, options: HEALTHY })),
  );
  const frames: (readonly Comparison[])[] = [];
  line.scenes((comparisons) => frames.push(comparisons));
  return { line, frames };
};
const levels = universe(hastySpot(), { Pan: 0.8, Tilt: 0.5 });
const noLoss = () => {
  throw new Error("not expected");
};

test("each frame sent is one frame of the fixture's time", async () => {
  const { line, frames } = rig(1);
  await line.open(noLoss);
  for (let n = 0; n < 10; n += 1) expect(line.send(levels)).toBe("sent");
  expect(frames.map(([first]) => first?.scene.frame)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
});

test("several fixtures hang on one line, each with its own slots and its own twin", async () => {
  const { line, frames } = rig(1, 101);
  await line.open(noLoss);
  for (let n = 0; n < 20 * 40; n += 1) line.send(levels);
  const last = frames.at(-1)!;
  expect(last).toHaveLength(2);
  expect(part(last[0]!.scene, "Pan").at).toBeCloseTo(0.8, 3);
  expect(part(last[1]!.scene, "Pan").at).toBeCloseTo(0, 3);
  expect(last[1]!.scene).toEqual(last[1]!.twin);
});

test("a closed or stalled line drops frames, and time goes on without them", async () => {
  const { line, frames } = rig(1);
  expect(line.send(levels)).toBe("dropped");
  await line.open(noLoss);
  line.stall(2);
  expect([line.send(levels), line.send(levels), line.send(levels)]).toEqual(["dropped", "dropped", "sent"]);
  expect(frames).toHaveLength(4);
  await line.close();
  expect(line.send(levels)).toBe("dropped");
});

test("a line that vanishes says so once, cannot be opened until it is back, and can then", async () => {
  const { line } = rig(1);
  const lost: LineError[] = [];
  await line.open((error) => lost.push(error));
  line.vanish("unplugged");
  line.vanish("unplugged");
  expect(lost.map(({ code }) => code)).toEqual(["unplugged"]);
  expect(line.send(levels)).toBe("dropped");
  await expect(line.open(noLoss)).rejects.toBeInstanceOf(LineError);
  line.restore();
  await line.open(noLoss);
  expect(line.send(levels)).toBe("sent");
});

test("more than 1.25 s without a frame is loss of data (ANSI E1.11, secondary)", async () => {
  const { line, frames } = rig(1);
  await line.open(noLoss);
  for (let n = 0; n < 20 * 40; n += 1) line.send(levels);
  line.pass(50);
  expect(frames.at(-1)![0]!.scene.display).toBe("address 1");
  line.pass(1);
  expect(frames.at(-1)![0]!.scene.display).toBe("no data");
});

test("with the mains off everything is dark and still, with the mains on again it homes", async () => {
  const { line, frames } = rig(1);
  await line.open(noLoss);
  line.mains("off");
  line.send(levels);
  expect(frames.at(-1)![0]!.scene.phase).toBe("off");
  expect(frames.at(-1)![0]!.scene.display).toBe("");
  line.mains("on");
  line.send(levels);
  expect(frames.at(-1)![0]!.scene.phase).toBe("homing");
});

test("a listener that has left hears no more", () => {
  const { line } = rig(1);
  let heard = 0;
  const leave = line.scenes(() => {
    heard += 1;
  });
  line.pass(2);
  leave();
  line.pass(2);
  expect(heard).toBe(2);
});
