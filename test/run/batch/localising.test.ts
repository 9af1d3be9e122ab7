import { expect, test } from "vitest";
import type { Step } from "../../../src/data/sequence/sequence.ts";
import { localisedOnce } from "../../../src/run/batch/localising.ts";
import { sequenceOf } from "../../kit/shipped.ts";

const PAN = "{ sweep: Pan, seconds: 3, passes: 2 }";
const BOTH = "{ sweep: [Pan, Tilt], speed: full, passes: 2, id: both-full }";
const SNAPS = "{ snap: [Pan, Tilt], deg: 15, times: 3, id: dot-snaps }";
const alone = (...steps: readonly string[]): readonly string[] =>
  localisedOnce(sequenceOf(...steps).steps).map(({ routine, functions }: Step) => `${routine} ${functions.join(" ")}`);

test.each([
  { pressed: [PAN], played: ["sweep Pan"], because: "what was pressed is looked at alone" },
  {
    pressed: [BOTH],
    played: ["sweep Pan", "sweep Tilt"],
    because: "of two that moved together either can be meant",
  },
  {
    pressed: [PAN, BOTH],
    played: ["sweep Pan"],
    because: "with one of them pressed by itself too, the other one was watched alone and showed nothing",
  },
  {
    pressed: [PAN, BOTH, SNAPS],
    played: ["sweep Pan", "snap Pan"],
    because: "each way of moving it comes once",
  },
  {
    pressed: [BOTH, SNAPS],
    played: ["sweep Pan", "sweep Tilt", "snap Pan", "snap Tilt"],
    because: "with none pressed by itself nobody knows which it is",
  },
])("$because", ({ pressed, played }) => {
  expect(alone(...pressed)).toEqual(played);
});
