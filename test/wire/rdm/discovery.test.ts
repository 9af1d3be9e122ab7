import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable, type CableTroubles, SOUND_CABLE } from "../../../src/sim/rdm/cable.ts";
import { type Device, plainDevice } from "../../../src/sim/rdm/device.ts";
import type { Utterance } from "../../../src/sim/rdm/responder.ts";
import { discover } from "../../../src/wire/rdm/discovery.ts";
import { uidBytes } from "../../../src/wire/rdm/packet.ts";
import { play } from "./play.ts";

const FIRST = 0x7ff0_0000_0000;
const deviceOf = (uid: number, kind: Device["kind"] = "fixture") => plainDevice(uidBytes(uid), { kind });

/** Who hangs on the cable: so many, far apart, side by side, or as hard to tell apart as can be. */
const CROWDS: Readonly<Record<string, (count: number) => readonly number[]>> = {
  "anywhere at random": (count) => {
    const chance = chanceFrom(count);
    return Array.from(
      { length: count },
      () => Math.floor(chance() * 0x7fff) * 2 ** 32 + Math.floor(chance() * 2 ** 32),
    );
  },
  "one after the other": (count) => Array.from({ length: count }, (_, index) => FIRST + 1 + index),
  // Each two differ in the last bit alone, so that every pair is halved 48 times.
  "in pairs that differ in the last bit": (count) =>
    Array.from({ length: count }, (_, index) => ((index >> 1) + 1) * 0x2f_0000_0000 + (index & 1)),
};

const search = (uids: readonly number[], troubles: CableTroubles = SOUND_CABLE, seed = 1) => {
  const cable = new Cable(
    uids.map((uid) => deviceOf(uid)),
    chanceFrom(seed),
    troubles,
  );
  return { ...play(discover(), (packet) => cable.send(packet)), collisions: cable.traffic.collisions };
};
const sorted = (uids: readonly number[]) => [...new Set(uids)].sort((a, b) => a - b);

/**
 * No way of halving needs fewer: everybody must answer a search alone once and be told to be silent, and in the end
 * nobody must answer. Un-muting, and asking again because answers get lost, come on top.
 */
const fewest = (count: number) => 2 * count + 1;

test.each(Object.keys(CROWDS).flatMap((crowd) => [1, 2, 64, 512].map((count) => ({ crowd, count }))))(
  "$count fixtures, $crowd: all found, none invented",
  ({ crowd, count }) => {
    const uids = CROWDS[crowd]!(count);
    const { found, ended, requests, phantoms } = search(uids);
    expect(found.map(({ uid }) => uid)).toEqual(sorted(uids));
    expect([ended, phantoms.filter((uid) => uids.includes(uid))]).toEqual(["complete", []]);
    expect(requests).toBeGreaterThanOrEqual(fewest(count));
    // Each was found by asking both halves of at most 48 ranges.
    expect(requests).toBeLessThanOrEqual(16 + count * (2 * 48 + 4));
  },
);

test.each(Object.keys(CROWDS).flatMap((crowd) => [2, 64, 512].map((count) => ({ crowd, count }))))(
  "$count fixtures, $crowd, and one answer in twenty gets lost: all found",
  ({ crowd, count }) => {
    const uids = CROWDS[crowd]!(count);
    for (const seed of [1, 2, 3]) {
      const { found } = search(uids, { ...SOUND_CABLE, lost: 0.05 }, seed);
      expect(found.map(({ uid }) => uid)).toEqual(sorted(uids));
    }
  },
);

test.each(Object.keys(CROWDS).flatMap((crowd) => [1, 2, 64, 512].map((count) => ({ crowd, count }))))(
  "$count fixtures, $crowd, one of them a proxy, phantoms among the collisions, and one answer in twenty lost: all found, none invented",
  ({ crowd, count }) => {
    const uids = sorted(CROWDS[crowd]!(count));
    const [proxy, ...others] = uids;
    const devices = [deviceOf(proxy!, "proxy"), ...others.map((uid) => deviceOf(uid, "proxied"))];
    const cable = new Cable(devices, chanceFrom(7), { ...SOUND_CABLE, lost: 0.05 });
    const chance = chanceFrom(count);
    let ghosts = 0;
    const { found, ended, phantoms, requests } = play(discover(), (packet) => {
      const before = cable.traffic.collisions;
      const heard = cable.send(packet);
      // Now and then what collided reads as somebody in the range that was searched, who is not there.
      if (cable.traffic.collisions === before || chance() > 0.1) return heard;
      const ghost = number(packet.slice(24, 30)) + Math.floor(chance() * 3);
      if (uids.includes(ghost) || ghost > number(packet.slice(30, 36))) return heard;
      ghosts += 1;
      return new Cable([deviceOf(ghost)], chanceFrom(1)).send(packet);
    });
    expect(found).toEqual([
      { uid: proxy, proxy: true, proxied: false },
      ...others.map((uid) => ({ uid, proxy: false, proxied: true })),
    ]);
    expect([ended, phantoms.filter((uid) => uids.includes(uid))]).toEqual(["complete", []]);
    expect(ghosts > 0).toBe(count >= 64);
    expect(requests).toBeGreaterThanOrEqual(fewest(count));
    expect(requests).toBeLessThanOrEqual(2 * (16 + count * (2 * 48 + 4)) + 8 * ghosts);
  },
);
const number = (bytes: Uint8Array): number => bytes.reduce((sum, byte) => sum * 256 + byte, 0);

test("nobody: silence is asked for more than once, and then believed", () => {
  expect(search([])).toMatchObject({ found: [], ended: "complete", requests: 7 });
});

test("a proxy and the two behind it are told from the others", () => {
  const devices = [
    deviceOf(FIRST + 1, "proxy"),
    deviceOf(FIRST + 2, "proxied"),
    deviceOf(FIRST + 3, "proxied"),
    deviceOf(FIRST + 4),
  ];
  const cable = new Cable(devices, chanceFrom(1));
  const { found } = play(discover(), (packet) => cable.send(packet));
  expect(found).toEqual([
    { uid: FIRST + 1, proxy: true, proxied: false },
    { uid: FIRST + 2, proxy: false, proxied: true },
    { uid: FIRST + 3, proxy: false, proxied: true },
    { uid: FIRST + 4, proxy: false, proxied: false },
  ]);
});

test("a phantom, two answers that read as a third, is not taken for a fixture, and both are found", () => {
  const [a, b] = [deviceOf(FIRST + 0x10), deviceOf(FIRST + 0x21)];
  const phantom = deviceOf(FIRST + 0x31);
  const cable = new Cable([a, b], chanceFrom(1));
  const ghost = new Cable([phantom], chanceFrom(1));
  const { found, phantoms } = play(discover(), (packet) => {
    const before = cable.traffic.collisions;
    const heard = cable.send(packet);
    return cable.traffic.collisions > before ? ghost.send(packet) : heard;
  });
  expect(found.map(({ uid }) => uid)).toEqual([FIRST + 0x10, FIRST + 0x21]);
  expect(phantoms).toEqual([FIRST + 0x31]);
});

const always = (who: number, spoil: (said: Utterance) => Utterance | undefined): CableTroubles => ({
  lost: 0,
  spoil: (said, { uid }) => (uid.join() === uidBytes(who).join() ? spoil(said) : said),
});

test("one that never confirms itself is told of, and hides nobody else", () => {
  const troubles = always(FIRST + 2, (said) => (said.bare ? said : undefined));
  const { found, phantoms, ended } = search([FIRST + 1, FIRST + 2, FIRST + 3], troubles);
  expect([found.map(({ uid }) => uid), phantoms, ended]).toEqual([[FIRST + 1, FIRST + 3], [FIRST + 2], "complete"]);
});

test("one that will not be silent is told of, and hides nobody else", () => {
  const uids = [FIRST + 1, FIRST + 2, FIRST + 3];
  const cable = new Cable(
    uids.map((uid) => deviceOf(uid)),
    chanceFrom(1),
  );
  const { found, talkative, ended } = play(discover(), (packet) => {
    const heard = cable.send(packet);
    // Told to be silent it says yes, and is woken again before the next question.
    if (packet[22] === 2)
      cable.send(
        Uint8Array.from(
          [0xcc, 1, 0x18, ...uidBytes(FIRST + 2), ...uidBytes(FIRST), 0, 1, 0, 0, 0, 0x10, 0, 3, 0, 0, 0].map(
            (byte, at, all) =>
              at < 24 ? byte : (all.slice(0, 24).reduce((a, b) => a + b, 0) >> (at === 24 ? 8 : 0)) & 255,
          ),
        ),
      );
    return heard;
  });
  expect([found.map(({ uid }) => uid), talkative, ended]).toEqual([uids, [FIRST + 2], "complete"]);
});

test("two with one number, that spoil each other's yes: found once, and told of", () => {
  const { found, garbled } = search([FIRST + 7, FIRST + 7, FIRST + 9]);
  expect(found.map(({ uid }) => uid)).toContain(FIRST + 9);
  expect([...found.map(({ uid }) => uid), ...garbled]).toContain(FIRST + 7);
});

test("a line full of noise is given up after a bounded number of requests", () => {
  const chance = chanceFrom(5);
  const { found, ended, requests } = play(discover(), () => Uint8Array.from({ length: 24 }, () => chance() * 256));
  expect([found, ended]).toEqual([[], "noise"]);
  expect(requests).toBeLessThan(1000);
});

test("the simulated responders share no code with what is checked against them", () => {
  for (const name of readdirSync("src/sim/rdm"))
    expect(readFileSync(`src/sim/rdm/${name}`, "utf8"), name).not.toMatch(/from "[^"]*wire\//);
});
