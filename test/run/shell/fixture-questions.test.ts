import { describe, expect, test } from "vitest";
import { artRdmDoor } from "../../../src/io/network/art-rdm.ts";
import type { FixtureSaid } from "../../../src/run/events/fixture-said.ts";
import type { FixtureQuestion } from "../../../src/run/session/asked.ts";
import { type FixtureAnswer, FixtureQuestions } from "../../../src/run/shell/fixture-questions.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable, simRdmDoor } from "../../../src/sim/rdm/cable.ts";
import { type Device, plainDevice, steadySensor, uidOf } from "../../../src/sim/rdm/device.ts";
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

const bench = (of: Device = device) => {
  const heard: FixtureAnswer[] = [];
  let now = 0;
  const door = simRdmDoor([of]);
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

describe("a test of its own", () => {
  /** A fixture whose tests take so many looks; it keeps what it was told to do. */
  const testing = (looks: number) => {
    const own = plainDevice(uidOf(UID), { serial: "A-1", sensors: [], status: [{ type: 4, id: 5, data: [9, 0] }] });
    const told: number[] = [];
    let left = 0;
    Object.defineProperty(own, "testing", {
      get: () => Math.max(0, left),
      set: (test: number) => {
        // Each look sets it to 0 as well: what is not yet over goes on.
        if (test > 0) left = looks;
        else left -= 1;
        if (test > 0 || told.at(-1) !== 0) told.push(test);
      },
    });
    return { own, told };
  };
  const wanted = (known: FixtureSaid, test = 2) =>
    question({ kind: "own-test", since: 0, known, test: { test, step: "s", attempt: 1 } });
  const known = async (own: Device) => {
    const { questions, heard, beats } = bench(own);
    questions.consider([question({ kind: "everything", since: 0 })]);
    await beats(150);
    const said = heard[0];
    if (said?.kind !== "fixture-said") throw new Error("it has not answered");
    return { questions, beats, said: said.body, heard: () => heard.slice(1) };
  };

  test("is begun once and looked at every second; what the fixture reports afterwards is heard first", async () => {
    const { own, told } = testing(3);
    const { questions, beats, said, heard } = await known(own);
    questions.consider([wanted(said)]);
    await beats(40 * 2);
    expect([told[0], heard()]).toEqual([2, []]);
    await beats(40 * 8);
    expect(heard()).toMatchObject([
      { kind: "fixture-said", body: { status: [{ id: 5 }] } },
      { kind: "own-test-over", run: "r", words: "its own test is over; it reports: error: index error, slot 10" },
    ]);
    await beats(40 * 4);
    expect([told.filter((test) => test > 0), heard().length]).toEqual([[2], 2]);
  });

  test("that it does not know is refused in words, and the step is over", async () => {
    const { questions, beats, said, heard } = await known(testing(3).own);
    questions.consider([wanted(said, 9)]);
    await beats(40 * 2);
    expect(heard()).toEqual([
      {
        kind: "own-test-over",
        run: "r",
        words: "its own test did not begin: PERFORM_SELFTEST: refused: says the value is out of range",
      },
    ]);
  });

  test("that nobody waits for any more is told to stop, once", async () => {
    const { own, told } = testing(1000);
    const { questions, beats, said, heard } = await known(own);
    questions.consider([wanted(said)]);
    await beats(40 * 3);
    told.length = 0;
    questions.consider([]);
    await beats(40 * 3);
    expect([told, heard()]).toEqual([[0], []]);
  });
});
