import { expect, test } from "vitest";
import { artRdmDoor } from "../../../src/io/network/art-rdm.ts";
import type { FixtureQuestion } from "../../../src/run/session/asked.ts";
import { type FixtureAnswer, FixtureQuestions } from "../../../src/run/shell/fixture-questions.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable } from "../../../src/sim/rdm/cable.ts";
import { plainDevice, steadySensor, uidOf } from "../../../src/sim/rdm/device.ts";
import { simRdmDoor } from "../../../src/sim/rdm/sim-door.ts";
import { loopbackAddress } from "../../io/network/receiver.ts";
import { gatewayAt } from "../../kit/rdm/gateway.ts";

const UID = "7FF0:00000002";
const head = steadySensor({ name: "Head", type: 0, unit: 1, prefix: 0, range: [0, 120], normal: [5, 85] }, 40);
const device = plainDevice(uidOf(UID), { serial: "A-1", sensors: [head] });
const question = (wanted: FixtureQuestion["wanted"]): FixtureQuestion => ({
  run: "r",
  universe: 1,
  serial: "A-1",
  address: 1,
  wanted,
  litSince: 0,
});
const turns = async (count: number) => {
  for (let n = 0; n < count; n += 1) await new Promise((resolve) => setImmediate(resolve));
};

const bench = () => {
  const heard: FixtureAnswer[] = [];
  let now = 0;
  const door = simRdmDoor([device]);
  const asked: number[] = [];
  const counted = {
    ...door,
    exchange: (send: Parameters<typeof door.exchange>[0]) => {
      asked.push(now);
      return door.exchange(send);
    },
  };
  const questions = new FixtureQuestions(
    new Map([[1, counted]]),
    () => now,
    (answer) => heard.push(answer),
  );
  /** So many beats of 25 ms; nothing moves in those that `still` says. */
  const beats = async (count: number, still: (beat: number) => boolean = () => true) => {
    for (let beat = 0; beat < count; beat += 1) {
      now += 0.025;
      questions.beat(still(beat));
      await turns(3);
    }
  };
  return { questions, heard, asked, beats };
};

test("while anything moves nothing is asked; as soon as it stands everything is", async () => {
  const { questions, heard, asked, beats } = bench();
  questions.consider([question({ kind: "everything", since: 0 })]);
  await beats(50, () => false);
  expect([asked, heard]).toEqual([[], []]);
  await beats(120);
  expect(heard).toMatchObject([
    { kind: "fixture-said", run: "r", body: { uid: UID, serial: "A-1", counters: { LAMP_HOURS: 310 } } },
  ]);
});

test("a movement in between: the questions wait, and go on afterwards", async () => {
  const { questions, heard, asked, beats } = bench();
  questions.consider([question({ kind: "everything", since: 0 })]);
  await beats(20);
  const before = asked.length;
  await beats(100, () => false);
  // One may have been let go by the last beat that was still.
  expect(asked.length - before).toBeLessThanOrEqual(1);
  await beats(120);
  expect(heard.map(({ kind }) => kind)).toEqual(["fixture-said"]);
});

test("while it soaks its sensors are asked about every twenty seconds", async () => {
  const { questions, heard, beats } = bench();
  questions.consider([question({ kind: "everything", since: 0 })]);
  await beats(150);
  const said = heard[0];
  if (said?.kind !== "fixture-said") throw new Error("it has not answered");
  head.value = 47;
  questions.consider([question({ kind: "sensors", since: 0, known: said.body })]);
  await beats(40 * 45);
  expect(heard.slice(1)).toMatchObject(
    [1, 2, 3].map(() => ({ kind: "sensors-followed", body: { uid: UID, values: [{ number: 0, value: 47 }] } })),
  );
});

test("a line on which nothing answers is told of once, and left alone", async () => {
  const heard: FixtureAnswer[] = [];
  const door = { ...simRdmDoor([]), name: "serial:/dev/ttyUSB0", exchange: async () => ({ kind: "unheard" }) as const };
  const questions = new FixtureQuestions(
    new Map([[1, door]]),
    () => 0,
    (answer) => heard.push(answer),
  );
  for (let n = 0; n < 50; n += 1) {
    questions.consider([question({ kind: "everything", since: 0 })]);
    questions.beat(true);
    await turns(3);
  }
  expect(heard).toEqual([
    { kind: "remark", words: "serial:/dev/ttyUSB0: this interface does not do RDM, or nothing answers" },
  ]);
});

test("over a gateway of Art-Net: its port is open only while somebody is asked, which is told once, and the answer is the same", async () => {
  const address = loopbackAddress();
  const gateway = await gatewayAt(address, 3, new Cable([device], chanceFrom(1)));
  const heard: FixtureAnswer[] = [];
  const door = artRdmDoor("artnet:3", 3, address);
  const questions = new FixtureQuestions(
    new Map([[1, door]]),
    () => 0,
    (answer) => heard.push(answer),
  );
  questions.consider([question({ kind: "everything", since: 0 })]);
  while (!heard.some(({ kind }) => kind === "fixture-said")) {
    questions.beat(true);
    await turns(1);
  }
  expect(heard).toMatchObject([
    {
      kind: "remark",
      words: `Art-Net's port 6454 is open on this computer while fixtures are asked, for ${address} only.`,
    },
    { kind: "fixture-said", run: "r", body: { uid: UID, serial: "A-1" } },
  ]);
  questions.close();
  // Given back by itself: another door has the port at once.
  const second = artRdmDoor("artnet:1", 1, loopbackAddress());
  let isFree = false;
  while (!isFree)
    isFree = await second.open().then(
      () => true,
      () => turns(1).then(() => false),
    );
  await second.close();
  await gateway.close();
});
