import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable, SOUND_CABLE } from "../../../src/sim/rdm/cable.ts";
import { plainDevice } from "../../../src/sim/rdm/device.ts";
import type { Dialogue } from "../../../src/wire/rdm/dialogue.ts";
import { onTheCable } from "../../../src/wire/rdm/dialogue.ts";
import { discover } from "../../../src/wire/rdm/discovery.ts";
import { readFixture } from "../../../src/wire/rdm/fixture.ts";
import { readIdentity } from "../../../src/wire/rdm/identity.ts";
import { uidBytes } from "../../../src/wire/rdm/packet.ts";
import { type Row, row } from "../line/row.ts";

/** Times on the cable in microseconds (ANSI E1.20, secondary): the shortest break and mark, and a turn-round in the middle. */
const BREAK_AND_MARK = 176 + 12;
const SLOT = 44;
const TURN_ROUND = 500;
const NO_ANSWER = 3000;
const AFTER_SEARCH = 5800;
const AFTER_BROADCAST = 176;

/** Plays a dialogue on a simulated cable, and adds up what its packets would take on a real one. Interface and USB come on top. */
const onCable = <T>(dialogue: Dialogue<T>, cable: Cable) => {
  const talk = onTheCable(dialogue);
  let microseconds = 0;
  let requests = 0;
  let next = talk.next();
  while (!next.done) {
    const step = next.value;
    if (step.kind !== "send") {
      next = talk.next(undefined);
      continue;
    }
    requests += 1;
    const bytes = cable.send(step.packet);
    microseconds += BREAK_AND_MARK + SLOT * step.packet.length;
    if (step.answered === "by-any") microseconds += AFTER_SEARCH;
    else if (step.answered === "by-nobody") microseconds += AFTER_BROADCAST;
    else microseconds += bytes ? TURN_ROUND + BREAK_AND_MARK + SLOT * bytes.length : NO_ANSWER;
    next = talk.next(bytes ? { kind: "bytes", bytes } : { kind: "nothing" });
  }
  return { value: next.value, requests, seconds: microseconds / 1e6 };
};

/** Side by side, far apart, or in pairs that differ in the last bit alone: every pair is halved 48 times. */
const CROWDS = {
  "one after the other": (index: number) => 0x7ff0_0000_0001 + index,
  "far apart": (index: number) => 0x0100_0000_0000 + index * 0x3f1a_7c3d,
  "in pairs that differ in the last bit": (index: number) => ((index >> 1) + 1) * 0x2f_0000_0000 + (index & 1),
} as const;

const cableOf = (count: number, uidOf: (index: number) => number, lost = 0) =>
  new Cable(
    Array.from({ length: count }, (_, index) =>
      plainDevice(uidBytes(uidOf(index)), { kind: index === 0 && count > 1 ? "proxy" : "fixture" }),
    ),
    chanceFrom(count),
    { ...SOUND_CABLE, lost },
  );

/** No halving needs fewer: each answers a search alone once and is told to be silent, and at the end nobody answers. */
const fewest = (count: number) => {
  const search = BREAK_AND_MARK + SLOT * 38 + AFTER_SEARCH;
  const mute = BREAK_AND_MARK + SLOT * 26 + TURN_ROUND + BREAK_AND_MARK + SLOT * 28;
  return { requests: 2 * count + 1, seconds: (count * (search + mute) + search) / 1e6 };
};

/** A search and a reading at the times that packets take on the cable, beside the fewest requests that could do. */
export const rdmBench = async (): Promise<readonly Row[]> => {
  const searches = Object.entries(CROWDS)
    .flatMap(([crowd, uidOf]) =>
      [1, 2, 64, 512].flatMap((count) => [
        { words: `${count} ${crowd}`, count, cable: cableOf(count, uidOf) },
        { words: `${count} ${crowd}, one answer in twenty lost`, count, cable: cableOf(count, uidOf, 0.05) },
      ]),
    )
    .map(({ words, count, cable }) => {
      const { value, requests, seconds } = onCable(discover(), cable);
      if (value.found.length !== count) throw new Error(`${value.found.length} of ${count} found`);
      return { words, count, requests, seconds, least: fewest(count) };
    });
  const one = onCable(readIdentity(0x7ff0_0000_0001), cableOf(1, CROWDS["one after the other"]));
  const all = onCable(readFixture(0x7ff0_0000_0001), cableOf(1, CROWDS["one after the other"]));
  return [
    ...searches.flatMap(({ words, count, requests, seconds, least }) => [
      row(`search of ${words}: requests, beside the fewest possible`, "", requests, least.requests),
      row(
        `search of ${words}: fixtures found for a second of cable time`,
        "/s",
        count / seconds,
        count / least.seconds,
      ),
    ]),
    row(
      "one search and one answer, cable time: the floor for each fixture",
      "ms",
      1000 * (fewest(2).seconds - fewest(1).seconds),
    ),
    row("who a fixture is, cable time", "ms", one.seconds * 1000),
    row(`everything a fixture says, ${all.requests} requests, cable time`, "ms", all.seconds * 1000),
  ];
};
