import { describe, expect, test } from "vitest";
import { WasOut } from "../../../src/run/shell/was-out.ts";

/** Frames of 25 ms from a moment on, as the shell reports them at every beat. */
const played = (was: WasOut, key: string, since: number, frames: number, from = 0) => {
  for (let n = 0; n <= frames; n++) was.beat(since + n * 0.025, key, from + n);
  was.beat(since + (frames + 1) * 0.025, "", 0);
};

describe("what was out at a moment that is over", () => {
  test("is the frame that had gone out, and the seconds since frame 0", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    expect(was.at(11.01)).toEqual({ key: "0.1", frame: 40, after: expect.closeTo(1.01, 6) });
  });

  test("belongs to the step of then, whatever plays now", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    played(was, "1.1", 20, 100);
    expect(was.at(12).key).toBe("0.1");
    expect(was.at(21)).toEqual({ key: "1.1", frame: 40, after: expect.closeTo(1, 6) });
  });

  test("goes on from where a step that had been frozen went on", () => {
    const was = new WasOut();
    played(was, "0.1", 10, 40);
    played(was, "0.1", 30, 40, 40);
    expect(was.at(30.5)).toEqual({ key: "0.1", frame: 60, after: expect.closeTo(1.5, 6) });
  });

  test.each([
    { because: "before anything played", at: 9 },
    { because: "between two steps", at: 15 },
    { because: "long after", at: 99 },
  ])("is nothing $because", ({ at }) => {
    const was = new WasOut();
    played(was, "0.1", 10, 100);
    played(was, "1.1", 20, 100);
    expect(was.at(at)).toEqual({ key: "", frame: 0, after: 0 });
  });
});
