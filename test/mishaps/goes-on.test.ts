import { describe, expect, test } from "vitest";
import { loopbackAddress, receiverAt } from "../io/network/receiver.ts";
import { type Afterwards, ending, farthest, interfaceAt, SLOW, type Workplace, workplace } from "./at-work.ts";

const unbroken = (screen: string) => screen.replaceAll(/\s+/g, " ");

const LOST = "THE DMX LINE IS LOST";
const BACK = "THE DMX LINE IS BACK";

describe.concurrent("what a run survives: it says so, reopens by itself, and goes on when somebody agrees, slowly first", () => {
  test.for([
    {
      fault: "the cable of a serial interface out and in",
      breaks: "pullOut" as const,
      says: "cable out",
    },
    {
      fault: "a serial interface that hangs, unplugged and plugged in",
      breaks: "stopReading" as const,
      says: "has taken no data for a second",
    },
  ])("$fault", { timeout: SLOW }, async ({ breaks, says }, { onTestFinished }) => {
    const place = workplace(onTestFinished);
    const cable = interfaceAt(place.folder, onTestFinished);
    const run = await place.atWork([cable.output]);
    cable[breaks]();
    expect(unbroken(await run.until(LOST))).toContain(says);
    cable.pullOut();
    const from = cable.packets.length;
    cable.plugIn();
    await run.until(BACK);
    await cable.held();
    // From where it was told to stand; what a hanging interface swallowed was on its way for a second of 18 degrees.
    expect(farthest(cable.packets.slice(from - 1))).toBeLessThan(breaks === "pullOut" ? 2 : 20);
    run.type("c");
    await run.until("SLOW MOVEMENT FIRST");
    await run.until((screen) => screen.includes("\n  PAN\n"));
    run.type("s");
    expect(await run.ended).toBe(4);
    const record = await place.record();
    const course = record.flatMap((body) => (body.kind === "course-changed" ? [body.what] : []));
    // One that hangs can be opened again before it is unplugged, and is lost again.
    expect(course.join(" ")).toMatch(/^(line-lost line-back )+resumed stopped$/);
    expect(ending(record)).toBe("stopped");
  });

  test("the program is held for longer than a second at full movement", { timeout: SLOW }, async ({
    onTestFinished,
  }) => {
    const place = workplace(onTestFinished);
    const cable = interfaceAt(place.folder, onTestFinished);
    const run = await place.atWork([cable.output]);
    const from = cable.packets.length;
    // Its screen and its keys alone: what sends the frames is another process, and nobody could have stopped it.
    process.kill(run.pid, "SIGSTOP");
    await cable.held();
    expect(farthest(cable.packets.slice(from))).toBeLessThan(2);
    process.kill(run.pid, "SIGCONT");
    expect(unbroken(await run.until("The computer stood still"))).toContain("Before it moves you confirm the area.");
    run.type("s");
    expect(await run.ended).toBe(4);
    const course = (await place.record()).flatMap((body) => (body.kind === "course-changed" ? [body.what] : []));
    expect(course).toEqual(["away", "stopped"]);
  });

  test("another interface is plugged in where the one before was", { timeout: SLOW }, async ({ onTestFinished }) => {
    const place = workplace(onTestFinished);
    const cable = interfaceAt(place.folder, onTestFinished);
    cable.numbered(7);
    const run = await place.atWork([cable.output]);
    cable.pullOut();
    await run.until(LOST);
    const before = cable.packets.length;
    cable.numbered(8);
    cable.plugIn();
    expect(unbroken(await run.until("ANOTHER INTERFACE"))).toContain("number 8; the one before was number 7");
    run.type("c");
    run.type("y");
    expect(cable.packets.length, "nothing was sent to it").toBe(before);
    run.type("x");
    await run.until(BACK);
    await cable.held();
    expect(cable.packets.length).toBeGreaterThan(before);
    run.type("s");
    expect(await run.ended).toBe(4);
    const met = (await place.record()).flatMap((body) => (body.kind === "interface-met" ? [body.identity.number] : []));
    expect(met).toEqual(["7", "8"]);
  });

  test("a run that was interrupted is resumed with another interface: asked about first, and agreed to", {
    timeout: SLOW,
  }, async ({ onTestFinished }) => {
    const { place, cable, resumed, before } = await resumedElsewhere(onTestFinished);
    resumed.type("x");
    await resumed.until("BEFORE ANYTHING MOVES");
    resumed.type("c");
    await resumed.until((screen) => screen.includes("\n  PAN\n"));
    resumed.type("s");
    expect(await resumed.ended).toBe(4);
    await cable.held();
    expect(cable.packets.length).toBeGreaterThan(before);
    expect(await numbersMet(place)).toEqual(["7", "8"]);
  });

  test("a run that was interrupted is resumed with another interface, and nobody agrees: nothing is sent to it", {
    timeout: SLOW,
  }, async ({ onTestFinished }) => {
    const { place, cable, resumed, before } = await resumedElsewhere(onTestFinished);
    resumed.type("c");
    resumed.type("y");
    resumed.type("s");
    expect(await resumed.ended).toBe(4);
    expect(cable.packets.length).toBe(before);
    expect(await numbersMet(place)).toEqual(["7"]);
  });

  test("a receiver on the network that is switched off and on again", { timeout: SLOW }, async ({ onTestFinished }) => {
    const address = loopbackAddress();
    const place = workplace(onTestFinished);
    const before = await receiverAt(address, 5568, onTestFinished);
    const run = await place.atWork(["sacn:7", "--to", address]);
    await before.close();
    expect(unbroken(await run.until(LOST))).toContain(`${address} is there but takes no sACN`);
    const after = await receiverAt(address, 5568, onTestFinished);
    await run.until(BACK);
    run.type("c");
    await run.until("SLOW MOVEMENT FIRST");
    process.kill(run.pid, "SIGTERM");
    expect(await run.ended).toBe(4);
    // The end of a stream: three packets that say so (ANSI E1.31, from memory). The program is gone before they are read here.
    await after.until((packets) => packets.length > 3 && packets.slice(-3).every((packet) => packet[112] === 0x40));
    expect(after.packets.slice(-4).map((packet) => packet[112])).toEqual([0, 0x40, 0x40, 0x40]);
    expect(
      (await place.record()).some((body) => body.kind === "run-opened" && body.output === `sacn:7 to ${address}`),
    ).toBe(true);
  });
});

/** A run on interface 7, stopped in its first movement; and taken up again where interface 8 is plugged in by now. */
const resumedElsewhere = async (afterwards: Afterwards) => {
  const place = workplace(afterwards);
  const cable = interfaceAt(place.folder, afterwards);
  cable.numbered(7);
  const run = await place.atWork([cable.output]);
  run.type("s");
  expect(await run.ended).toBe(4);
  await cable.held();
  cable.pullOut();
  cable.numbered(8);
  cable.plugIn();
  const before = cable.packets.length;
  const resumed = place.command(["resume", "--output", cable.output]);
  expect(unbroken(await resumed.until("ANOTHER INTERFACE"))).toContain("number 8; the one before was number 7");
  return { place, cable, resumed, before };
};

const numbersMet = async (place: Workplace) =>
  (await place.record()).flatMap((body) => (body.kind === "interface-met" ? [body.identity.number] : []));
