import fc from "fast-check";
import { expect, test, vi } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { type DmxLine, LineError } from "../../../src/run/ports.ts";
import { universesOn } from "../../../src/run/shell/universes.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { ptyPair } from "../../kit/pty.ts";

/** A DMX line that keeps what it is sent, and can be made to drop or to fail. */
const recordingLine = () => {
  const frames: Uint8Array[] = [];
  const calls: string[] = [];
  const levers = { fate: "sent" as "sent" | "dropped", trouble: undefined as LineError | undefined };
  let lose: (error: LineError) => void = () => {};
  const line: DmxLine = {
    name: "record",
    open: async (lost) => {
      calls.push("open");
      if (levers.trouble) throw levers.trouble;
      lose = lost;
    },
    send: (levels) => {
      if (levers.fate === "sent") frames.push(levels);
      return levers.fate;
    },
    close: async () => {
      calls.push("close");
      if (levers.trouble) throw levers.trouble;
    },
  };
  return { line, frames, calls, levers, lose: (error: LineError) => lose(error) };
};

const two = () => {
  const [first, second] = [recordingLine(), recordingLine()];
  const losses: (readonly [number, LineError])[] = [];
  const register = universesOn(
    new Map([
      [1, first.line],
      [7, second.line],
    ]),
  );
  const open = (universe: number) => register.open(universe, (error) => losses.push([universe, error]));
  const universes = { ...register, open };
  return { first, second, universes, losses };
};
const unplugged = new LineError("unplugged", "cable out");

test("every frame reaches the DMX line of its universe, slot by slot, and stays as it was", async () => {
  const frame = fc.uint8Array({ minLength: 512, maxLength: 512 });
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(fc.constantFrom(1, 7), frame)), async (sent) => {
      const { first, second, universes } = two();
      await Promise.all([universes.open(1), universes.open(7)]);
      for (const [universe, levels] of sent) expect(universes.send(universe, levels)).toBe("sent");
      const framesOf = (wanted: number) => sent.filter(([universe]) => universe === wanted).map(([, levels]) => levels);
      expect([first.frames, second.frames]).toEqual([framesOf(1), framesOf(7)]);
    }),
  );
});

test("a frame the DMX line did not take is reported as dropped", async () => {
  const { first, universes } = two();
  await universes.open(1);
  first.levers.fate = "dropped";
  expect(universes.send(1, new Uint8Array(512))).toBe("dropped");
  first.levers.fate = "sent";
  expect(universes.send(1, new Uint8Array(512))).toBe("sent");
});

test("before it is open, and after an opening that failed, a universe drops", async () => {
  const { first, universes } = two();
  expect(universes.send(1, new Uint8Array(512))).toBe("dropped");
  first.levers.trouble = unplugged;
  await expect(universes.open(1)).rejects.toBe(unplugged);
  expect(universes.send(1, new Uint8Array(512))).toBe("dropped");
  expect(first.frames).toEqual([]);
});

test("a loss is told, and opening anew opens the same DMX line once more", async () => {
  const { second, universes, losses } = two();
  await universes.open(7);
  second.lose(unplugged);
  expect(losses).toEqual([[7, unplugged]]);
  await universes.open(7);
  expect(second.calls).toEqual(["open", "open"]);
  expect(universes.send(7, new Uint8Array(512))).toBe("sent");
});

test("closing closes all, also after one that cannot be closed", async () => {
  const { first, second, universes } = two();
  await universes.open(1);
  await universes.open(7);
  first.levers.trouble = unplugged;
  await universes.close();
  expect([first.calls, second.calls]).toEqual([
    ["open", "close"],
    ["open", "close"],
  ]);
});

test("closing closes a DMX line that is still being opened", async () => {
  const { first, universes } = two();
  const opening = universes.open(1);
  await universes.close();
  await opening;
  expect(first.calls).toEqual(["open", "close"]);
});

test("a universe without a DMX line is our own mistake", async () => {
  await expect(two().universes.open(3)).rejects.toThrow("Bug");
});

test("nothing is sent that nobody sent", async () => {
  // The register's own drivers repeat by a timer; ours must not, or two would keep time.
  vi.useFakeTimers();
  const { first, universes } = two();
  await universes.open(1);
  universes.send(1, new Uint8Array(512));
  vi.advanceTimersByTime(60_000);
  vi.useRealTimers();
  expect(first.frames.length).toBe(1);
});

test("over a real cable a frame arrives as it was given", async () => {
  const levels = Uint8Array.from({ length: 512 }, (_, slot) => slot & 255);
  let heard: (packet: readonly number[]) => void = () => {};
  const arrived = new Promise<readonly number[]>((resolve) => {
    heard = resolve;
  });
  const pair = ptyPair(lineDecoder((packet) => heard(packet)).take);
  const universes = universesOn(new Map([[2, framedLine(pair.path)]]));
  await universes.open(2, () => {});
  pair.taken();
  universes.send(2, levels);
  expect(await arrived).toEqual([...levels]);
  await universes.close();
  pair.pullOut();
});
