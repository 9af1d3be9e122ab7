import fc from "fast-check";
import { expect, test } from "vitest";
import { breakLine, breakSpeech, type Patience, thisPatience } from "../../../src/io/serial/break-line.ts";
import type { Wires } from "../../../src/io/serial/port.ts";
import { ptyPair } from "../../kit/pty.ts";

/** What happened on the wire, in microseconds of a clock that only moves when somebody waits or the system takes its time. */
interface Happening {
  readonly what: "break" | "mark" | "bytes";
  /** When the system was asked, and when it said that it is done. */
  readonly asked: number;
  readonly done: number;
  readonly bytes: readonly number[];
}

/** A port whose system takes so long for one call after another, in us; what it is given is taken in at once and drained at once. */
const wiresTaking = (delays: readonly number[]) => {
  let now = 0;
  const seen: Happening[] = [];
  const fate = { breaks: undefined as Error | undefined };
  const after = (what: Happening["what"], bytes: readonly number[] = []) => {
    const asked = now;
    now += delays[seen.length % delays.length] ?? 0;
    seen.push({ what, asked, done: now, bytes });
  };
  const wires = {
    set: ({ brk }: { brk?: boolean }, done: (cause?: Error) => void) => {
      if (!fate.breaks) after(brk ? "break" : "mark");
      done(fate.breaks);
    },
    write: (bytes: Uint8Array, _: undefined, done: () => void) => {
      after("bytes", [...bytes]);
      done();
    },
    drain: (done: () => void) => done(),
  } as unknown as Wires;
  const patience: Patience = {
    now: () => now,
    hold: (time) => {
      now += time;
    },
    pause: async (time) => {
      now += Math.max(0, time);
    },
  };
  return { wires, patience, seen, fate };
};

const delays = fc.array(fc.integer({ min: 0, max: 5000 }), { minLength: 1, maxLength: 12 });
const frames = fc.array(fc.uint8Array({ minLength: 512, maxLength: 512 }), { minLength: 2, maxLength: 5 });
const slots = fc.integer({ min: 1, max: 512 });

const said = async (delays: readonly number[], slots: number, frames: readonly Uint8Array[]) => {
  const { wires, patience, seen } = wiresTaking(delays);
  const speech = breakSpeech("/dev/x", slots, patience);
  await speech.greet(wires);
  for (const levels of frames) await speech.say(wires, levels);
  return seen.slice(1);
};

test("a packet is a break, a mark, start code 0 and the slots in their order", async () => {
  const levels = Uint8Array.from({ length: 512 }, (_, slot) => slot & 255);
  const seen = await said([50], 512, [levels]);
  expect(seen.map(({ what }) => what)).toEqual(["break", "mark", "bytes"]);
  expect(seen[2]?.bytes).toEqual([0, ...levels]);
});

test.each([
  { slots: 30, sent: 30, because: "nobody listens to the slots after" },
  { slots: 512, sent: 512, because: "everybody may listen" },
  // ANSI E1.11 (secondary): 1204 us from break to break, which is 24 slots.
  { slots: 4, sent: 24, because: "fewer than 24 slots would come too soon after one another" },
])("for $slots slots $sent go out: $because", async ({ slots, sent }) => {
  const [, , packet] = await said([50], slots, [new Uint8Array(512).fill(9)]);
  expect(packet?.bytes).toEqual([0, ...Array(sent).fill(9)]);
});

// Times of ANSI E1.11-2008 (R2018), secondary: at least 92 us of break, 12 us of mark, under a second; 44 us a slot.
test("whatever the system takes, the break lasts 92 us at least and the mark 12, from its answer to the next asking", async () => {
  await fc.assert(
    fc.asyncProperty(delays, slots, frames, async (delays, slots, frames) => {
      const seen = await said(delays, slots, frames);
      for (const [index, { what, done }] of seen.entries()) {
        const next = seen[index + 1];
        if (!next) continue;
        if (what === "break") expect(next.asked - done).toBeGreaterThanOrEqual(92);
        if (what === "mark") expect(next.asked - done).toBeGreaterThanOrEqual(12);
      }
    }),
  );
});

test("the next break waits until the bits of the packet before have had their time, also where the port says sooner that it is done", async () => {
  await fc.assert(
    fc.asyncProperty(delays, slots, frames, async (delays, slots, frames) => {
      const seen = await said(delays, slots, frames);
      const packets = seen.filter(({ what }) => what === "bytes");
      const breaks = seen.filter(({ what }) => what === "break");
      for (const [index, { asked, bytes }] of packets.entries()) {
        const next = breaks[index + 1];
        if (next) expect(next.asked - asked).toBeGreaterThanOrEqual(44 * bytes.length);
      }
      for (const [index, { asked }] of breaks.slice(1).entries())
        expect(asked - (breaks[index]?.asked ?? 0)).toBeGreaterThanOrEqual(1204);
    }),
  );
});

test("a break that fails is a frame that failed", async () => {
  const { wires, patience, fate } = wiresTaking([0]);
  const speech = breakSpeech("/dev/x", 24, patience);
  fate.breaks = new Error("gone");
  await expect(speech.say(wires, new Uint8Array(512))).rejects.toThrow("gone");
});

test("a port that cannot send a break does not open, and says what it may be instead", async () => {
  // A pseudo-terminal has no modem lines, and so no break.
  const pair = ptyPair(() => {});
  const line = breakLine(pair.path, 512);
  expect(line.name).toBe(`break:${pair.path}`);
  await expect(line.open(() => {})).rejects.toMatchObject({
    name: "LineError",
    code: "not-a-port",
    message: expect.stringContaining(`named serial:${pair.path}`),
  });
  expect(line.send(new Uint8Array(512))).toBe("dropped");
  // It was given back: another may have it.
  await expect(line.open(() => {})).rejects.toMatchObject({ code: "not-a-port" });
  await line.close();
  pair.pullOut();
});

test("this computer never waits for less than it was asked to", async () => {
  for (const time of [12, 92, 176, 1500]) {
    const begun = thisPatience.now();
    thisPatience.hold(time);
    expect(thisPatience.now() - begun).toBeGreaterThanOrEqual(time);
  }
  const begun = thisPatience.now();
  await thisPatience.pause(1200);
  expect(thisPatience.now() - begun).toBeGreaterThanOrEqual(1200);
  await thisPatience.pause(-5);
});
