import { describe, expect, test } from "vitest";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { runWith, SPOT } from "./spot.ts";

/**
 * What gives the common faults away at the bench. Common practice, no source. Each row is a whole run of the short check
 * with nothing but these symptoms; "within" is how far down the list a repairer would put up with finding it.
 */
const ROWS = [
  {
    fault: "settings-changed",
    seen: { "identify Pan": ["inverted"] },
    within: 1,
    because: "inverted is a menu setting",
  },
  {
    fault: "settings-changed",
    seen: { "sweep Pan": ["short-range"] },
    within: 2,
    because: "reduced range is a menu setting",
  },
  {
    fault: "address-or-mode",
    seen: { "identify Pan": ["wrong-thing"] },
    within: 1,
    because: "another mode or address",
  },
  {
    fault: "lens-grime",
    seen: { "hold Focus1": ["dim", "veil", "tinted"] },
    within: 1,
    because: "dull, tinted, halo in every state",
  },
  {
    fault: "lamp-worn",
    seen: { "hold Focus1": ["dim", "flickers"], "power-up fixture": ["slow-strike"] },
    within: 2,
    because: "dim, flicker, slow strike",
  },
  { fault: "fan-tired", seen: { "power-up fixture": ["fan-loud"] }, within: 2, because: "a loud fan" },
  {
    fault: "board-plug-loose",
    seen: { "shake Pan": ["several-at-once"] },
    within: 1,
    because: "random drop-outs when shaken after transit",
  },
  {
    fault: "colour-wheel-sensor",
    seen: { "step-through Color1": ["wrong-item", "keeps-homing"] },
    within: 1,
    because: "circles on homing, wrong position",
  },
  {
    fault: "gobo-wheel-sensor",
    seen: { "step-through Gobo1": ["wrong-item", "keeps-homing"] },
    within: 1,
    because: "circles on homing, wrong position",
  },
  {
    fault: "flag-sticks",
    seen: { "sweep ColorSub_C": ["late-flag", "stalls"] },
    within: 1,
    because: "one colour late",
  },
  {
    fault: "tilt-belt-slack",
    seen: { "snap Tilt": ["swings-on"], "backlash Tilt": ["side-differs"] },
    within: 1,
    because: "nods after the stop, dot differs by side",
  },
  {
    fault: "pan-belt-slack",
    seen: { "snap Pan": ["swings-on", "knocks"] },
    within: 1,
    because: "the same sideways, clunk on reversal",
  },
  {
    fault: "pan-encoder-dirty",
    seen: { "sweep Pan": ["hunts", "catches-up"] },
    within: 1,
    because: "hunts, catches up",
  },
  {
    fault: "tilt-encoder-dirty",
    seen: { "sweep Tilt": ["catches-up"], "power-up fixture": ["error-shown"] },
    within: 2,
    because: "reset error, catches up",
  },
  {
    fault: "gobo-spring",
    seen: { "rotate Gobo1Pos": ["wobbles", "soft-turning"] },
    within: 1,
    because: "wobble, goes soft as it turns",
  },
  {
    fault: "gobo-gear",
    seen: { "rotate Gobo1Pos": ["uneven-turning", "misses-angle"] },
    within: 1,
    because: "uneven, sticks, misses its index",
  },
  { fault: "iris-leaf-bent", seen: { "sweep Iris": ["grinds", "not-round"] }, within: 1, because: "scrape, oval" },
  { fault: "iris-burnt", seen: { "snap Iris": ["hangs-closed"] }, within: 1, because: "hangs closed" },
  { fault: "zoom-rails-dry", seen: { "sweep Zoom": ["stalls", "whines"] }, within: 1, because: "stalls, whine" },
  {
    fault: "focus-rails-dry",
    seen: { "sweep Focus1": ["jerks", "tilt-matters"] },
    within: 1,
    because: "differs with tilt",
  },
  { fault: "loom-tired", seen: { "sweep Tilt": ["at-angle"] }, within: 1, because: "fails only at some angle" },
  {
    fault: "shutter-drags",
    seen: { "in-and-out Shutter1": ["uneven-strobe", "leaks-light"] },
    within: 1,
    because: "light leak, uneven strobe",
  },
  {
    fault: "prism-arm-drags",
    seen: { "in-and-out Prism1": ["half-in", "slow"] },
    within: 1,
    because: "half in, slow in",
  },
  { fault: "prism-bearing", seen: { "rotate Prism1Pos": ["ticks"] }, within: 1, because: "ticks as it turns" },
  {
    fault: "frost-warped",
    seen: { "in-and-out Frost1": ["grinds", "half-in"] },
    within: 1,
    because: "half shade, rubs",
  },
  { fault: "motor-open", seen: { "sweep Iris": ["trembles"] }, within: 1, because: "buzzes, trembles, no travel" },
  { fault: "driver-dead", seen: { "sweep Zoom": ["no-move"] }, within: 3, because: "one motor silent" },
  { fault: "supply-weak", seen: { "shake Pan": ["reset-itself"] }, within: 3, because: "resets when all moves" },
  {
    fault: "source-driver",
    seen: { "power-up fixture": ["slow-strike", "light-out"] },
    within: 1,
    because: "strikes and drops",
  },
  {
    fault: "data-socket",
    seen: { "identify Pan": ["by-cable"] },
    within: 2,
    because: "flicker when the plug is touched",
  },
  {
    fault: "memory-battery",
    seen: { "power-up fixture": ["forgets-settings"] },
    within: 1,
    because: "forgets its address",
  },
  { fault: "panel-faulty", seen: { "power-up fixture": ["display-dark"] }, within: 1, because: "dead display" },
  {
    fault: "arm-bolts-loose",
    seen: { "snap Tilt": ["swings-on", "head-shakes"], "snap Pan": ["head-shakes"] },
    within: 1,
    because: "shake after stop, on both axes",
  },
  { fault: "yoke-bent", seen: { "sweep Tilt": ["grinds", "at-angle"] }, within: 3, because: "rub at one angle" },
  {
    fault: "transport-lock",
    seen: { "sweep Pan": ["no-move"], "sweep Tilt": ["no-move"] },
    within: 1,
    because: "both axes stand still",
  },
  {
    fault: "pan-pulley-loose",
    seen: { "return fixture": ["moved-after"], "snap Pan": ["wrong-place", "moved-after"] },
    within: 1,
    because: "position drifts, a reset cures it",
  },
] as const;

describe("what gives it away at the bench leads to the fault (common practice, no source)", () => {
  test.each(ROWS)("$fault: $because", ({ fault, seen, within }) => {
    const named = rank(SPOT, runWith(seen))
      .faults.slice(0, within)
      .map(({ id }) => id);
    expect(named).toContain(fault);
  });
});
