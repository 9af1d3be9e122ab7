import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { parseBench } from "../../src/data/bench/bench.ts";
import { symptomWords } from "../../src/domain/trade/symptoms.ts";
import { FootSwitch } from "../../src/ui/keyboard.ts";
import { pagesOf } from "../../src/ui/symptom-pages.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { must, shippedText } from "../kit/shipped.ts";
import { PLAN, Typist } from "./sights.ts";

const FOOT = "f";
/** A keyboard waits half a second before it repeats a key that is held, then 30 times a second. */
const held = (ms: number): readonly number[] => [0, ...Array.from({ length: (ms - 500) / 33 }, (_, n) => 500 + 33 * n)];

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** What a switch means that is closed at these milliseconds. */
const meant = (at: readonly number[], moves: () => boolean, passOn: (key: string) => void): void => {
  const foot = new FootSwitch(FOOT, PLAN, moves, passOn);
  let now = 0;
  for (const time of at) {
    vi.advanceTimersByTime(time - now);
    now = time;
    foot.hear(FOOT, now);
  }
  vi.advanceTimersByTime(2000);
};

describe.each([
  { while: "something moves", moves: true },
  { while: "a question lies open", moves: false },
])("while $while", ({ moves }) => {
  test.each<{ at: readonly number[]; inMotion: readonly string[]; asked: readonly string[]; because: string }>([
    { at: [0], inMotion: ["space"], asked: ["space"], because: "one press" },
    {
      at: [0, 300],
      inMotion: ["space", "space"],
      asked: ["a"],
      because: "two in a row: they take the answer; in a movement each counts",
    },
    { at: [0, 900], inMotion: ["space", "space"], asked: ["space", "space"], because: "one, and one more" },
    {
      at: [0, 250, 500],
      inMotion: ["space", "space", "space"],
      asked: ["a", "space"],
      because: "two in a row, and one more",
    },
    { at: held(1500), inMotion: ["space", "s"], asked: ["s"], because: "held down it is the stop button" },
    { at: held(6000), inMotion: ["space", "s"], asked: ["s"], because: "held for long it stops once" },
  ])("$because", ({ at, inMotion, asked }) => {
    const keys: string[] = [];
    meant(
      at,
      () => moves,
      (key) => keys.push(key),
    );
    expect(keys).toEqual(moves ? inMotion : asked);
  });
});

test("a press while it moves is passed on at once, so that it has its frame", () => {
  const keys: string[] = [];
  new FootSwitch(
    FOOT,
    PLAN,
    () => true,
    (key) => keys.push(key),
  ).hear(FOOT, 5000);
  expect(keys).toEqual(["space"]);
});

test("every other key is passed on as it is", () => {
  const keys: string[] = [];
  const foot = new FootSwitch(
    FOOT,
    PLAN,
    () => true,
    (key) => keys.push(key),
  );
  for (const key of ["g", "escape", "space"]) foot.hear(key, 0);
  expect(keys).toEqual(["g", "escape", "space"]);
});

test("a step that was pressed in is answered by the foot alone: on to the third symptom, and that is it", () => {
  const [first, second, third] = pagesOf(jobOf(["sweep: Pan"]), 0, "Pan")[0]!.symptoms;
  const typist = new Typist(new Driven(jobOf(["sweep: Pan"])).started().send({ kind: "press" }, 40).playOut());
  meant(
    [0, 900, 1800, 2700, 3000],
    () => false,
    (key) => typist.press(key),
  );
  expect(typist.run.events("step-judged")[0], `after ${symptomWords(first!)}, ${symptomWords(second!)}`).toMatchObject({
    result: "fail",
    symptoms: [{ symptom: third, function: "Pan" }],
  });
});

describe("in the bench file", () => {
  const bench = shippedText("benches/bench.yaml");

  test("a key of its own", () => {
    expect(must(parseBench("bench.yaml", `${bench}foot_switch: f\n`)).footSwitch).toBe("f");
    expect(must(parseBench("bench.yaml", bench)).footSwitch).toBeUndefined();
  });

  test("no key that a button has", () => {
    const parsed = parseBench("bench.yaml", `${bench}foot_switch: pagedown\n`);
    expect(parsed.ok ? [] : parsed.problems).toMatchObject([
      { message: "pagedown is the key of a button already", hint: "give the foot switch a key of its own" },
    ]);
  });
});
