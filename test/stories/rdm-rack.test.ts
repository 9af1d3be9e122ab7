import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { simulatedBuild, simulatedDevice } from "../../src/app/simulated/simulated-build.ts";
import { parseProfile } from "../../src/data/profile/parse.ts";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { parseRack } from "../../src/data/rack/parse.ts";
import { rank } from "../../src/diagnosis/model/rank.ts";
import { saidBody } from "../../src/run/events/fixture-said.ts";
import { observationsOf } from "../../src/run/events/observations.ts";
import { emptyRun } from "../../src/run/events/view.ts";
import { chanceFrom } from "../../src/sim/chance.ts";
import { HEALTHY } from "../../src/sim/fixture.ts";
import { SimLine } from "../../src/sim/line.ts";
import { setFaults } from "../../src/sim/physical/faults.ts";
import { Cable } from "../../src/sim/rdm/cable.ts";
import type { PartTrouble } from "../../src/sim/trouble.ts";
import { discover } from "../../src/wire/rdm/discovery.ts";
import { readFixture } from "../../src/wire/rdm/fixture.ts";
import { readIdentity } from "../../src/wire/rdm/identity.ts";
import { uidIn } from "../../src/wire/rdm/packet.ts";
import { rosterOf } from "../../src/wire/rdm/roster.ts";
import { changedSettings, setAddress, writeBack } from "../../src/wire/rdm/settings.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { rdmInterface } from "../kit/rdm/interface.ts";
import { play } from "../wire/rdm/play.ts";

/**
 * Twelve simulated fixtures on one cable as a truck brings them back: two at wrong addresses, one in the wrong mode, one
 * with pan inverted, one too hot, one that does not find the index of its gobo wheel. All of it comes over the cable.
 */
const NO_INDEX = "no index on the gobo wheel";
const WRONG: Readonly<Record<string, string>> = {
  "SP-102": "address-off",
  "LW-103": "address-off",
  "BM-101": "menu-other-mode",
  "SP-103": "menu-pan-reversed",
  "BM-103": "filter-felted",
  "SP-104": NO_INDEX,
};
/** The magnet of the gobo wheel is gone: it searches four times and gives up. */
const noIndex: PartTrouble = { kind: "mover", function: "Gobo1", homeTries: () => 4 };

const profileNamed = (name: string) => parseProfile(name, readFileSync(`profiles/${name}.yaml`, "utf8"));
const rackFile = parseRack("demo", readFileSync("racks/demo.yaml", "utf8"), profileNamed);
if (!rackFile.ok) throw new Error("the demo rack cannot be read");
const rack = rackFile.value;

const cableOf = () => {
  const plugged = rack.fixtures.map(({ serial, profile, start }, index) => {
    const build = simulatedBuild(profile, start?.slot ?? 1);
    const fault = WRONG[serial];
    const troubles =
      fault === NO_INDEX ? [noIndex] : setFaults(build, fault === undefined ? [] : [fault], index + 1).troubles;
    return { build, options: { ...HEALTHY, troubles, seed: index + 1, warmth: 0.9 } };
  });
  const line = new SimLine(plugged);
  line.pass(40 * 150);
  const devices = rack.fixtures.map(({ serial, profile }, place) => simulatedDevice(line, place, serial, profile));
  return { line, cable: new Cable(devices, chanceFrom(1)) };
};

test("a rack of twelve: found, put right, and the fault named first", () => {
  const { line, cable } = cableOf();
  const ask = <T>(dialogue: Parameters<typeof play<T>>[0]) => play(dialogue, (packet) => cable.send(packet));
  const everybody = () => {
    const { found } = ask(discover());
    return rosterOf(
      found.map(({ uid }) => ({ universe: 1, identity: ask(readIdentity(uid)) })),
      rack,
    );
  };

  // Found: all twelve are known by their serial numbers, and what is set wrongly is said.
  const before = everybody();
  expect(before.missing).toEqual([]);
  const said = Object.fromEntries(
    before.rows.filter(({ wrong }) => wrong.length > 0).map(({ fixture, wrong }) => [fixture?.serial, wrong[0]]),
  );
  expect(said).toMatchObject({
    "SP-102": expect.stringContaining("the rack file says universe 1, address 31"),
    "LW-103": expect.stringContaining("the rack file says universe 1, address 225"),
    "BM-101": expect.stringContaining("It is in mode 2 of 2"),
  });

  // Put right: addresses, then what a hirer changed since the settings were kept.
  const uidOf = (serial: string) =>
    uidIn(before.rows.find((row) => row.fixture?.serial === serial)?.identity.uid ?? "")!;
  for (const { fixture, identity } of before.rows)
    if (fixture?.start && identity.address !== fixture.start.slot)
      expect(ask(setAddress(uidIn(identity.uid)!, fixture.start.slot))).toBeUndefined();
  const house = { PAN_INVERT: 0, TILT_INVERT: 0, PAN_TILT_SWAP: 0, DMX_PERSONALITY: 1 } as const;
  for (const serial of ["SP-103", "BM-101"]) {
    const { settings } = ask(readFixture(uidOf(serial)));
    expect(ask(writeBack(uidOf(serial), changedSettings(house, settings)))).toEqual([]);
  }
  const after = everybody();
  expect(after.rows.flatMap(({ wrong }) => wrong)).toEqual([]);
  expect(line.fixtureAt(2)?.menu.panInverted).toBe(false);

  // Named: what two of them report of themselves, and nothing else was looked at.
  const first = (serial: string) => {
    const { profile } = rack.fixtures.find((one) => one.serial === serial)!;
    const view = { ...emptyRun, said: [saidBody(ask(readFixture(uidOf(serial))))] };
    const named = rank(fittedOf(profile), observationsOf(view, profile)).faults.find(({ kind }) => kind === "fault");
    return named?.kind === "fault" ? `${named.mechanism}: ${named.title}` : "nothing";
  };
  expect(first("SP-104")).toMatch(/^rotating-gobo-wheel: .*(sensor|magnet)/);
  expect(first("BM-103")).toMatch(/^cooling: /);
});

test("the same twelve over a framed serial interface: the program sees what it sees on the simulated line", async () => {
  const place = workplace();
  const { cable } = cableOf();
  const far = rdmInterface(cable);
  const file = place.file(
    "truck.yaml",
    readFileSync("racks/demo.yaml", "utf8").replace("output: sim", `output: "serial:${far.pair.path}"`),
  );
  const out = await new Promise<string>((resolve) => {
    const run = spawn(process.execPath, [program(), "rdm", "find", file], {
      env: { PATH: process.env["PATH"] ?? "", HOME: place.folder },
    });
    let text = "";
    run.stdout.on("data", (chunk) => (text += chunk));
    run.on("exit", () => resolve(text));
  });
  place.remove();
  expect(out).toContain("UNIVERSE 1: 12 fixtures answer");
  expect(out).toContain("BM-101: It is in mode 2 of 2");
}, 120_000);
