import { expect, test } from "vitest";
import { compile } from "../../../src/plan/compile.ts";
import { darkened, sample } from "../../../src/plan/sample.ts";
import type { Spot } from "../../../src/run/batch/batch.ts";
import type { RigConduct } from "../../../src/run/machine/input.ts";
import { Player } from "../../../src/run/shell/player.ts";
import { handClock } from "../../kit/hand-clock.ts";
import { sequenceOf, shippedBench, shippedProfile } from "../../kit/shipped.ts";

const profile = shippedProfile("spot-16bit");
const long = compile(profile, sequenceOf("{ sweep: Pan, seconds: 28, passes: 2 }"), shippedBench()).steps[0]!;

const lit = compile(profile, sequenceOf("{ hold: Zoom, at_pct: [50], seconds: 20 }"), shippedBench()).steps[0]!;

const rig = (address = 1, fate: (n: number) => "sent" | "dropped" = () => "sent") => {
  const sent: Uint8Array[] = [];
  const ended: { key: string; rig: RigConduct }[] = [];
  const spot: Spot = { universe: 1, address, profile };
  const send = (_universe: number, levels: Uint8Array) => {
    const outcome = fate(sent.length);
    sent.push(levels.slice());
    return outcome;
  };
  const player = new Player([spot], send, (key, conduct) => ended.push({ key, rig: conduct }));
  return { sent, ended, player, parts: [{ step: long, spots: [spot] }] };
};

test("60 s of frames by a hand-moved clock: none missing, each the sample of its number", () => {
  const { sent, ended, player, parts } = rig();
  const clock = handClock();
  player.play("k", parts, 0);
  const stop = clock.start((tick) => player.tick(tick));
  clock.advance(60);
  stop();
  expect(sent.length).toBeGreaterThanOrEqual(2400);
  for (let n = 0; n <= long.frames; n++) expect(sent[n]?.slice(0, 30), `frame ${n}`).toEqual(sample(profile, long, n));
  expect(ended).toEqual([{ key: "k", rig: { worstLate: 0, dropped: 0 } }]);
});

test("the fixture's slots stand at its start address and nowhere else", () => {
  const { sent, player, parts } = rig(145);
  player.play("k", parts, 0);
  player.tick({ frame: 0, late: 0 });
  expect(sent[0]?.slice(144, 174)).toEqual(sample(profile, long, 0));
  expect([...sent[0]!.slice(0, 144), ...sent[0]!.slice(174)].every((level) => level === 0)).toBe(true);
});

test("skipped ticks skip frames, never delay them, and are counted with the lateness", () => {
  const { sent, ended, player, parts } = rig();
  player.play("k", parts, 0);
  player.tick({ frame: 10, late: 0 });
  player.tick({ frame: 13, late: 0.031 });
  expect(sent[1]?.slice(0, 30)).toEqual(sample(profile, long, 3));
  player.tick({ frame: 10 + long.frames, late: 0 });
  expect(ended[0]?.rig).toEqual({ worstLate: expect.closeTo((long.frames - 4) * 0.025), dropped: 2 + long.frames - 4 });
});

test("a frame that the line dropped is counted", () => {
  const { ended, player, parts } = rig(1, (n) => (n % 100 === 5 ? "dropped" : "sent"));
  player.play("k", parts, 0);
  for (let frame = 0; frame <= long.frames; frame++) player.tick({ frame, late: 0 });
  expect(ended[0]?.rig.dropped).toBe(Math.ceil((long.frames - 4) / 100));
});

test("nothing goes out before something plays", () => {
  const { sent, player } = rig();
  for (let frame = 0; frame < 80; frame++) player.tick({ frame, late: 0 });
  player.goDark();
  player.tick({ frame: 80, late: 0 });
  expect(sent).toEqual([]);
});

test("it goes on from a frame; at a stop it goes dark, and nothing but light changes in that frame", () => {
  const { sent, player, parts } = rig();
  player.play("k", parts, 500);
  expect(player.standing(0), "asked for, and not out").toEqual({ frame: 500, after: 12.5, unsent: true });
  player.tick({ frame: 0, late: 0 });
  expect(player.standing(0.01)).toEqual({ frame: 500, after: 12.51, unsent: false });
  player.goDark();
  player.tick({ frame: 1, late: 0 });
  player.tick({ frame: 2, late: 0 });
  const [playing, dark, after] = sent.map((levels) => levels.slice(0, 30));
  expect(dark).toEqual(darkened(profile, playing!));
  expect(after).toEqual(dark);
  const light = ["Shutter1", "Dimmer", "Control1"] as const;
  const slots = light.flatMap((id) => profile.functions.get(id)?.slots ?? []);
  for (const [at, level] of playing!.entries())
    if (!slots.includes(at + 1)) expect(dark?.[at], `slot ${at + 1}`).toBe(level);
});

test("a first frame that the line did not take is not out", () => {
  const { player, parts } = rig(1, (n) => (n === 0 ? "dropped" : "sent"));
  player.play("k", parts, 0);
  player.tick({ frame: 0, late: 0 });
  expect(player.standing(0)).toMatchObject({ frame: 0, unsent: true });
  player.tick({ frame: 1, late: 0 });
  expect(player.standing(0)).toMatchObject({ frame: 1, unsent: false });
});

test("many fixtures play one step at once, each at its own address and universe; whoever has no part stands still and dark", () => {
  const spots: readonly Spot[] = [
    { universe: 1, address: 1, profile },
    { universe: 1, address: 31, profile },
    { universe: 2, address: 101, profile },
  ];
  const sent = new Map<number, Uint8Array>();
  const player = new Player(
    spots,
    (universe, levels) => {
      sent.set(universe, levels.slice());
      return "sent";
    },
    () => {},
  );
  const slots = ({ universe, address }: Spot) => sent.get(universe)?.slice(address - 1, address - 1 + profile.slots);
  player.play("all", [{ step: lit, spots }], 0);
  for (let frame = 0; frame <= 400; frame++) player.tick({ frame, late: 0 });
  for (const spot of spots) expect(slots(spot)).toEqual(sample(profile, lit, 400));
  player.play("one", [{ step: lit, spots: [spots[2]!] }], 0);
  player.tick({ frame: 401, late: 0 });
  expect(slots(spots[2]!)).toEqual(sample(profile, lit, 0));
  for (const spot of spots.slice(0, 2)) expect(slots(spot)).toEqual(darkened(profile, sample(profile, lit, 400)));
  expect(slots(spots[0]!)).not.toEqual(sample(profile, lit, 400));
});

test("frames dropped on a universe that nobody plays on do not count against the step", () => {
  const [here, there]: readonly Spot[] = [
    { universe: 1, address: 1, profile },
    { universe: 2, address: 1, profile },
  ];
  const ended: RigConduct[] = [];
  const player = new Player(
    [here!, there!],
    (universe) => (universe === 2 ? "dropped" : "sent"),
    (_key, conduct) => ended.push(conduct),
  );
  const playOn = (spot: Spot, first: number) => {
    player.play("k", [{ step: long, spots: [spot] }], 0);
    for (let n = 0; n <= long.frames; n++) player.tick({ frame: first + n, late: 0 });
  };
  playOn(here!, 0);
  playOn(there!, long.frames + 1);
  expect(ended.map(({ dropped }) => dropped)).toEqual([0, long.frames + 1]);
});
