import { describe, expect, test } from "vitest";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable, SOUND_CABLE } from "../../../src/sim/rdm/cable.ts";
import { type Device, plainDevice, uidOf } from "../../../src/sim/rdm/device.ts";
import { type Answer, ask, put, troubleWith } from "../../../src/wire/rdm/ask.ts";
import type { Aside, Dialogue } from "../../../src/wire/rdm/dialogue.ts";
import { NO_TEXT } from "../../../src/wire/rdm/layout.ts";
import { uidIn } from "../../../src/wire/rdm/packet.ts";
import { PARAMETERS, parameterName } from "../../../src/wire/rdm/parameters.ts";
import { MANNERS, type Manner } from "./manners.ts";
import { play } from "./play.ts";

const NAME = "7FF0:00000002";
const WHO = uidIn(NAME)!;

const talk = <T>(dialogue: Dialogue<T>, changes: Partial<Device> = {}, manner?: Manner) => {
  const device = plainDevice(uidOf(NAME), changes);
  const spoil = manner === undefined ? SOUND_CABLE.spoil : MANNERS[manner];
  const cable = new Cable([device], chanceFrom(1), { lost: 0, spoil });
  const asides: Aside[] = [];
  const said = play(
    dialogue,
    (packet) => cable.send(packet),
    (aside) => asides.push(aside),
  );
  const waited = asides.reduce((sum, aside) => sum + (aside.kind === "pause" ? aside.time : 0), 0);
  return { said, device, requests: cable.traffic.requests, waited, asides };
};

describe("a fixture is asked", () => {
  const device = plainDevice(uidOf(NAME));
  test.each([
    [PARAMETERS.MANUFACTURER_LABEL, device.maker],
    [PARAMETERS.DEVICE_MODEL_DESCRIPTION, device.modelName],
    [PARAMETERS.SOFTWARE_VERSION_LABEL, device.software],
    [PARAMETERS.SERIAL_NUMBER, device.serial],
    [PARAMETERS.DMX_START_ADDRESS, 1],
    [PARAMETERS.DMX_PERSONALITY, { current: 1, count: 2 }],
    [PARAMETERS.DEVICE_HOURS, 1520],
    [PARAMETERS.LAMP_HOURS, 310],
    [PARAMETERS.LAMP_STRIKES, 96],
    [PARAMETERS.DEVICE_POWER_CYCLES, 204],
    [PARAMETERS.PAN_INVERT, false],
    [PARAMETERS.STATUS_MESSAGES, []],
  ])("%#: and what it says is what it knows", (parameter, value) => {
    const asked = parameter === PARAMETERS.STATUS_MESSAGES ? 2 : undefined;
    expect(talk(ask(WHO, parameter as typeof PARAMETERS.DEVICE_HOURS, asked as undefined)).said).toEqual({
      kind: "value",
      value,
    });
  });

  test("for one sensor, by its number", () => {
    expect(talk(ask(WHO, PARAMETERS.SENSOR_DEFINITION, 1)).said).toEqual({
      kind: "value",
      value: {
        sensor: 1,
        type: 0x15,
        unit: 0x23,
        prefix: 0,
        lowest: 0,
        highest: 6000,
        normalFrom: 1800,
        normalTo: 4200,
        records: 2,
        text: "Head fan",
      },
    });
  });
});

test("a list that does not fit in one answer is fetched in pieces and is whole", () => {
  const slots = Array.from({ length: 512 }, (_, at) => ({ type: at % 2, label: at, starts: at & 255 }));
  const { said, requests } = talk(ask(WHO, PARAMETERS.SLOT_INFO, undefined), { slots });
  expect(said).toEqual({ kind: "value", value: slots.map(({ type, label }, offset) => ({ offset, type, label })) });
  expect(requests).toBe(Math.ceil((512 * 5) / 230));
});

test("a fixture that asks for time gets it, and its answer is fetched from its queue", () => {
  const { said, waited, requests } = talk(ask(WHO, PARAMETERS.LAMP_HOURS, undefined), { slow: new Map([[0x401, 11]]) });
  expect([said, waited, requests]).toEqual([{ kind: "value", value: 310 }, 1.1, 2]);
});

test("a command that takes time is given once", () => {
  const { said, device, requests } = talk(put(WHO, PARAMETERS.DMX_START_ADDRESS, 101), { slow: new Map([[0xf0, 5]]) });
  expect([said.kind, device.address, requests]).toEqual(["value", 101, 2]);
});

test("what else comes out of the queue while something is waited for is not lost", () => {
  const changed = {
    slow: new Map([
      [0x401, 1],
      [0x400, 1],
    ]),
  };
  const device = plainDevice(uidOf(NAME), changed);
  const cable = new Cable([device], chanceFrom(1));
  const asides: Aside[] = [];
  // Asked for its hours, and not waited for: that answer stays in the queue, before the next.
  play(ask(WHO, PARAMETERS.DEVICE_HOURS, undefined), (packet) =>
    packet[22] === 0x20 ? undefined : cable.send(packet),
  );
  const said = play(
    ask(WHO, PARAMETERS.LAMP_HOURS, undefined),
    (packet) => cable.send(packet),
    (aside) => asides.push(aside),
  );
  expect(said).toEqual({ kind: "value", value: 310 });
  expect(asides).toContainEqual({ kind: "unasked", packet: expect.objectContaining({ pid: 0x400 }) });
});

describe("what it refuses is told with its reason", () => {
  const lacking = { lacks: new Set([0x401]) };
  test.each([
    [
      talk(ask(WHO, PARAMETERS.LAMP_HOURS, undefined), lacking).said,
      PARAMETERS.LAMP_HOURS,
      "LAMP_HOURS: refused: does not know this parameter",
    ],
    [
      talk(put(WHO, PARAMETERS.DMX_START_ADDRESS, 600)).said,
      PARAMETERS.DMX_START_ADDRESS,
      "DMX_START_ADDRESS: refused: says the value is out of range",
    ],
    [
      talk(put(WHO, PARAMETERS.DMX_PERSONALITY, 9)).said,
      PARAMETERS.DMX_PERSONALITY,
      "DMX_PERSONALITY: refused: says the value is out of range",
    ],
    [{ kind: "refused", reason: 0x14 } as const, { pid: 0x8001 }, "parameter 8001: refused: reason 0014"],
  ])("%#: $2", (said, parameter, words) => {
    expect(troubleWith(parameter, said)).toBe(words);
  });
});

describe("a bad answer becomes a sentence, after a bounded number of requests and a bounded time", () => {
  test.each<{ manner: Manner; words: string }>([
    { manner: "wrong checksum", words: "the answer has a wrong checksum" },
    { manner: "breaks off", words: "the answer breaks off" },
    { manner: "wrong UID", words: "another fixture answered" },
    { manner: "for somebody else", words: "the answer was for somebody else" },
    { manner: "wrong transaction number", words: "the answer was to another question" },
    { manner: "wrong kind of answer", words: "the answer is of another kind" },
    { manner: "lies about its length", words: "the answer lies about its length" },
    { manner: "levels instead", words: "the answer is not RDM" },
    { manner: "more time, for ever", words: "asks for more time without end" },
    { manner: "more to come, for ever", words: "sends more and more without end" },
    {
      manner: "says more than fits",
      words: "answered with 60 bytes that cannot be it; expected a number from 1 to 512",
    },
    { manner: "vanishes", words: "no answer" },
  ])("$manner: $words", ({ manner, words }) => {
    const parameter = manner === "says more than fits" ? PARAMETERS.DMX_START_ADDRESS : PARAMETERS.SUPPORTED_PARAMETERS;
    const { said, requests, waited } = talk<Answer<unknown>>(
      ask<undefined, unknown>(WHO, parameter, undefined),
      {},
      manner,
    );
    expect(troubleWith(parameter, said)).toBe(`${parameterName(parameter.pid)}: ${words}`);
    expect(requests).toBeLessThanOrEqual(30);
    expect(waited).toBeLessThanOrEqual(5.1);
  });

  test("text that is no text is kept with a mark for each byte, and has nothing in it that a terminal obeys", () => {
    const { said } = talk(ask(WHO, PARAMETERS.DEVICE_LABEL, undefined), {}, "text that is no text");
    expect(said).toEqual({ kind: "value", value: `A${NO_TEXT}[2J${NO_TEXT}${NO_TEXT}` });
  });

  test("a reset whose answer gets lost is not done twice", () => {
    expect(talk(put(WHO, PARAMETERS.RESET_DEVICE, 1), {}, "vanishes").requests).toBe(1);
    expect(talk(put(WHO, PARAMETERS.DEVICE_LABEL, "x"), {}, "vanishes").requests).toBe(3);
  });
});
