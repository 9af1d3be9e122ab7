import { expect, onTestFinished, test, vi } from "vitest";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { FramedRdm } from "../../../src/io/serial/framed-rdm.ts";
import { talk } from "../../../src/run/shell/rdm-talk.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { Cable } from "../../../src/sim/rdm/cable.ts";
import { plainDevice } from "../../../src/sim/rdm/device.ts";
import { discover } from "../../../src/wire/rdm/discovery.ts";
import { readFixture } from "../../../src/wire/rdm/fixture.ts";
import { uidBytes } from "../../../src/wire/rdm/packet.ts";
import { type InterfaceKind, rdmInterface } from "../../kit/rdm/interface.ts";

const FIRST = 0x7ff0_0000_0001;
const uids = Array.from({ length: 12 }, (_, index) => FIRST + index * 7);

const bench = async (kind: InterfaceKind = "does RDM") => {
  const cable = new Cable(
    uids.map((uid) => plainDevice(uidBytes(uid))),
    chanceFrom(1),
  );
  const far = rdmInterface(cable, kind);
  const line = framedLine(far.pair.path);
  const lost: string[] = [];
  await line.open((error) => lost.push(error.code));
  far.pair.taken();
  return { ...far, line, lost };
};

test("twelve fixtures behind a framed serial interface are found, and read", async () => {
  const { line } = await bench();
  const found = await talk(discover(), line.rdm);
  expect(found).toMatchObject({ kind: "done", value: { found: uids.map((uid) => ({ uid })), ended: "complete" } });
  const read = await talk(readFixture(uids[3]!), line.rdm);
  expect(read).toMatchObject({
    kind: "done",
    value: { identity: { uid: "7FF0:00000016", model: "Spot Sixteen", troubles: [] }, counters: { LAMP_HOURS: 310 } },
  });
  await line.close();
});

test("an interface that does no RDM is left alone after one question, and levels go on", async () => {
  const { line, heard } = await bench("knows no RDM");
  expect(await talk(discover(), line.rdm)).toEqual({ kind: "no-rdm" });
  expect(line.send(new Uint8Array(512))).toBe("sent");
  await line.close();
  // Three that nobody must answer, and one that was waited for.
  expect(heard.filter((one) => one === "question").length).toBe(4);
});

/** Levels and questions on one port, beat by beat: what is written, in order, and no clock but ours. */
const shared = () => {
  vi.useFakeTimers();
  onTestFinished(() => void vi.useRealTimers());
  const written: ("level" | "question")[] = [];
  const turn = new FramedRdm(() => {
    written.push("question");
    return "sent";
  });
  let now = 0;
  const beat = async () => {
    const fate = turn.holdsUp() ? "dropped" : "sent";
    if (fate === "sent") {
      written.push("level");
      turn.frameSent(now);
    }
    now += 25;
    await vi.advanceTimersByTimeAsync(25);
    return fate;
  };
  const ask = () => turn.exchange({ kind: "send", packet: Uint8Array.of(0xcc), answered: "by-one" }, () => now);
  return { written, turn, beat, ask };
};

test("while questions are asked levels go on: after every question comes a frame of levels before the next", async () => {
  const { written, turn, beat, ask } = shared();
  await beat();
  for (let asked = 0; asked < 5; asked += 1) {
    const said = ask();
    expect(await beat(), "the frame before the question").toBe("sent");
    turn.hear({ kind: "received", clean: true, bytes: Uint8Array.of(0xcc) });
    expect((await said).kind).toBe("bytes");
  }
  expect(written.join(" ")).toBe(`level${" level question".repeat(5)}`);
});

test("an answer that never comes holds up two frames and not a third", async () => {
  const { beat, ask } = shared();
  await beat();
  const said = ask();
  const fates = [await beat(), await beat(), await beat(), await beat()];
  expect(fates).toEqual(["sent", "dropped", "dropped", "sent"]);
  expect(await said).toEqual({ kind: "unheard" });
});

test("a cable pulled out in the middle of a search: the talk ends, the line is told lost", async () => {
  const { line, lost, pair } = await bench();
  let asked = 0;
  const found = talk(discover(), line.rdm, {
    before: async () => {
      if (++asked === 30) pair.pullOut();
    },
  });
  expect(await found).toMatchObject({ kind: "done" });
  expect(lost).toEqual(["unplugged"]);
});
