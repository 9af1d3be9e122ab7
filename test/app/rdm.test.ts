import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { chanceFrom } from "../../src/sim/chance.ts";
import { Cable, SOUND_CABLE } from "../../src/sim/rdm/cable.ts";
import { type Device, plainDevice, uidOf } from "../../src/sim/rdm/device.ts";
import { uidIn } from "../../src/wire/rdm/packet.ts";
import { loopbackAddress } from "../io/network/receiver.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { gatewayAt } from "../kit/rdm/gateway.ts";
import { type InterfaceKind, rdmInterface } from "../kit/rdm/interface.ts";
import { MANNERS, type Manner } from "../wire/rdm/manners.ts";

const place = workplace();
afterAll(() => place.remove());

/** The program beside this one, so that the other end of its cable can answer meanwhile. */
const limber = (args: readonly string[], typed = "") =>
  new Promise<{ code: number | null; out: string; err: string }>((resolve) => {
    const run = spawn(process.execPath, [program(), ...args], {
      env: { PATH: process.env["PATH"] ?? "", HOME: place.folder },
    });
    let [out, err] = ["", ""];
    run.stdout.on("data", (text) => (out += text));
    run.stderr.on("data", (text) => (err += text));
    run.stdin.end(typed);
    run.on("exit", (code) => resolve({ code, out, err }));
  });

describe("beside a rack file, on the simulated line", () => {
  const set = ["--set", "SP-102=address-off", "--set", "BM-101=menu-other-mode"];

  test("who answers, and what is not as the file says", () => {
    const { code, out } = place.limber("rdm", "find", "demo", ...set);
    expect(code).toBe(0);
    expect(out).toContain("UNIVERSE 1: 12 fixtures answer");
    expect(out.slice(out.indexOf("TO LOOK AT"))).toMatchInlineSnapshot(`
      "TO LOOK AT
        - BM-101: It is in mode 2 of 2, Mode B, 11 slots; its profile beam has 18
          slots.
        - SP-102: It listens at universe 1, address 37; the rack file says universe
          1, address 31.
        - SP-103: Its slots 61 to 90 overlap SP-102 (top, 2nd from the left), which
          has 37 to 66.
      "
    `);
  });

  test("a rack file of what was found is read again, and its fixtures are known by their UIDs", () => {
    const file = join(place.folder, "found.yaml");
    expect(place.limber("rdm", "find", "demo", "--as", "rack", "--out", file).code).toBe(0);
    expect(place.limber("rack", "check", file)).toMatchObject({ code: 0, err: "" });
    expect(place.limber("rdm", "find", file).out).toContain("Addresses and modes are as the rack file says.");
  });

  test("an address is set in the fixture after a yes, and read back; without a yes nothing is changed", async () => {
    const command = ["rdm", "address", "demo", "--set", "SP-102=address-off"];
    expect((await limber(command, "yes\n")).out).toContain("1 of 1 set and read back");
    expect((await limber(command, "no\n")).out).toContain("Nothing was changed.");
    expect(place.limber(...command).out).toContain("Nothing was changed.");
  });

  test("everything that one says: its heat too, and what it reports of it", () => {
    const { out } = place.limber("rdm", "read", "SP-104", "--rack", "demo", "--set", "SP-104=filter-felted");
    expect(out).toMatch(/Head \d+ C, normal 5 to 85: above/);
    expect(out).toMatch(/error: too hot, sensor 0 \(Head\), \d+ C/);
  });

  test("a name that nobody answers to", () => {
    const { code, err } = place.limber("rdm", "read", "SP-1O4", "--rack", "demo");
    expect([code, err]).toEqual([2, expect.stringContaining("nobody answers to this name")]);
  });
});

/** A fixture on a real cable, with an interface at a pseudo-terminal, and one bad manner. */
const onCable = async (args: readonly string[], devices: readonly Device[], manner?: Manner, kind?: InterfaceKind) => {
  const spoil = manner === undefined ? SOUND_CABLE.spoil : MANNERS[manner];
  const far = rdmInterface(new Cable(devices, chanceFrom(1), { lost: 0, spoil }), kind);
  const ended = await limber([...args, "--output", `serial:${far.pair.path}`]);
  return ended;
};
const SPOT = "7FF0:0000002A";
const spot = (changes: Partial<Device> = {}) => plainDevice(uidOf(SPOT), changes);

describe("over a framed serial interface", () => {
  test("a fixture is found and read", async () => {
    const { out } = await onCable(["rdm", "find"], [spot({ label: "Truss 3" })]);
    expect(out).toContain(`1-24     SN7ff00000002a  ${SPOT}  mode 1 of 2, Standard, 24 slots`);
    expect(out).toContain('Bench Prototypes Spot Sixteen, software 1.2.3, label "Truss 3"');
  });

  test("what only its maker knows is shown as the fixture describes it", async () => {
    const own = new Map([[0x8001, { words: "Pump minutes", value: 1234 }]]);
    const { out } = await onCable(["rdm", "read", SPOT], [spot({ own })]);
    expect(out).toContain("ITS MAKER'S OWN\n  - Pump minutes: 1234\n");
  });

  test("an interface that does no RDM costs one sentence", async () => {
    const { code, err } = await onCable(["rdm", "find"], [spot()], undefined, "knows no RDM");
    expect([code, err.trim()]).toEqual([3, "Universe 1: this interface does not do RDM, or nothing answers."]);
  });

  test.each<{ manner: Manner; says: string }>([
    { manner: "wrong checksum", says: "never answers cleanly" },
    { manner: "text that is no text", says: "SOFTWARE_VERSION_LABEL: holds bytes that are no text" },
    { manner: "more time, for ever", says: "asks for more time without end" },
    { manner: "lies about its length", says: "never answers cleanly" },
    { manner: "vanishes", says: "0 fixtures answer" },
  ])(
    "$manner: a sentence, and nothing that a terminal obeys",
    async ({ manner, says }) => {
      const { out, err } = await onCable(["rdm", "find"], [spot()], manner);
      expect(`${out}${err}`.replaceAll(/\s+/g, " ")).toContain(says);
      expect(`${out}${err}`.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    },
    60_000,
  );

  // Two that answer within the same microsecond sound like one, and now and then two do; three hardly ever.
  test("fixtures with one UID are told of", async () => {
    const { out, err } = await onCable(["rdm", "find"], [spot(), spot(), spot(), spot()]);
    expect(`${out}${err}`).toMatch(/two fixtures may have this one number|wrong checksum|breaks off|not RDM|overlap/);
  }, 60_000);
});

describe("what the previous hirer changed in its menu", () => {
  const journal = join(place.folder, "settings.db");
  const settings = (device: Device, typed = "") => {
    const far = rdmInterface(new Cable([device], chanceFrom(1), SOUND_CABLE));
    return limber(
      ["rdm", "settings", device.serial, "--output", `serial:${far.pair.path}`, "--journal", journal],
      typed,
    );
  };

  test("kept at the first time; afterwards what differs is told, and put back after a yes", async () => {
    const device = spot({ serial: "S-7", label: "Truss 3" });
    place.limber(
      ...["sweep", "--serial", "S-7", "--profile", "led-wash", "--sequence", "first-look", "--watcher", "1"],
      ...["--fast", "--journal", journal],
    );
    const first = await settings(device);
    expect(first.out).toContain("Nothing was saved of S-7 before. Saved with run");
    expect((await settings(device)).out).toContain("All settings are as they were on");

    device.switches.panInvert = 1;
    device.mode = 2;
    device.label = "Hired out";
    const left = await settings(device, "no\n");
    expect(
      left.out.replaceAll(/\d{4}-\d\d-\d\d/g, "DATE"),
    ).toContain(`Changed since DATE, by the previous hirer perhaps:
  - mode: was 1, is 2
  - label: was Truss 3, is Hired out
  - pan inverted: was off, is on
`);
    expect(left.out).toContain("Nothing was changed.");
    expect(device.switches.panInvert).toBe(1);

    const back = await settings(device, "yes\n");
    expect([back.code, back.out]).toEqual([0, expect.stringContaining("Put back, and read back as it was.")]);
    expect([device.switches.panInvert, device.mode, device.label]).toEqual([0, 1, "Truss 3"]);
  });
});

test("over an Art-Net gateway: found in its table, and it is said that a port is open meanwhile", async () => {
  const address = loopbackAddress();
  const gateway = await gatewayAt(address, 3, new Cable([spot()], chanceFrom(1)));
  const { out, err } = await limber(["rdm", "find", "--output", "artnet:3", "--to", address]);
  await gateway.close();
  expect(out).toContain(SPOT);
  expect(err).toContain(`Art-Net's port 6454 is open on this computer while this is asked, for ${address} only.`);
  expect(uidIn(SPOT)).toBe(0x7ff0_0000_002a);
});

test("outputs on which nothing can answer say so", async () => {
  const { err } = place.limber("rdm", "find", "--output", "sacn:1", "--to", "multicast");
  expect(err).toContain("nothing can answer here; RDM needs serial: or artnet:");
});

describe("a rack whose fixtures answer over the cable", () => {
  const uidOfOne = (index: number) => uidOf(`7FF0:0000003${index}`);
  const rack = (devices: readonly Device[], addresses: readonly number[]) => {
    const far = rdmInterface(new Cable(devices, chanceFrom(1), SOUND_CABLE));
    const file = place.file(
      `rack-${devices.map(({ serial }) => serial).join("-")}.yaml`,
      [
        "rack: two",
        "title: Two washes",
        `lines: [{ universe: 1, output: "serial:${far.pair.path}" }]`,
        "fixtures:",
        ...devices.map(
          ({ serial }, index) =>
            `  - { serial: ${serial}, profile: led-wash, shelf: top, place: number ${index + 1}, universe: 1, address: ${addresses[index]} }`,
        ),
        "",
      ].join("\n"),
    );
    return { file, far };
  };

  test("identify: each shows itself after a yes, a person says which it is, and the file is put right", async () => {
    const devices = [
      plainDevice(uidOfOne(1), { serial: "WA-1", address: 1 }),
      plainDevice(uidOfOne(2), { serial: "WA-2", address: 101 }),
    ];
    const { file } = rack(devices, [1, 41]);
    const { code, out, err } = await limber(["rack", "identify", file, "--write"], "yes\n\nWA-3\nwa-2\n");
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain("2 of 2 answer over the cable and can show themselves. It may light up, strobe or move");
    expect(out).toContain("shows itself. Which is it? Serial number, ENTER for WA-1 (top, number 1), none, or stop.");
    expect(out).toContain('"WA-3" is not in the rack file.');
    expect(out).toContain(
      "WA-2 (top, number 2) listens at universe 1, address 101, and not at universe 1, address 41.",
    );
    expect(readFileSync(file, "utf8")).toContain("place: number 2, universe: 1, address: 101 }");
    expect(devices.map(({ identify }) => identify)).toEqual([false, false]);
  });

  test("identify: stopped in the middle, nothing is written, and nobody goes on showing itself", async () => {
    const devices = [
      plainDevice(uidOfOne(3), { serial: "WB-1", address: 7 }),
      plainDevice(uidOfOne(4), { serial: "WB-2" }),
    ];
    const { file } = rack(devices, [1, 41]);
    const { code, out } = await limber(["rack", "identify", file, "--write"], "yes\nstop\n");
    expect([code, out]).toEqual([4, expect.stringContaining("nothing is written")]);
    expect(readFileSync(file, "utf8")).toContain("place: number 1, universe: 1, address: 1 }");
    expect(devices.map(({ identify }) => identify)).toEqual([false, false]);
  });

  test("address --write: written into the file, then set in the fixtures after a yes, and read back", async () => {
    const devices = [
      plainDevice(uidOfOne(5), { serial: "WC-1", address: 200 }),
      plainDevice(uidOfOne(6), { serial: "WC-2", address: 300 }),
    ];
    const { file } = rack(devices, [1, 1]);
    const { code, out } = await limber(["rack", "address", file, "--write"], "yes\n");
    expect([code, out]).toEqual([0, expect.stringContaining("2 of 2 set and read back; 2 in the rack.")]);
    const written = [...readFileSync(file, "utf8").matchAll(/address: (\d+)/g)].map(([, address]) => Number(address));
    expect(devices.map(({ address }) => address)).toEqual(written);
  });

  test("address --write where nobody answers: the list is for the panels", async () => {
    const { file, far } = rack([plainDevice(uidOfOne(7), { serial: "WD-1" })], [9]);
    far.pair.pullOut();
    const { code, out } = await limber(["rack", "address", file, "--write"]);
    expect([code, out]).toEqual([0, expect.stringContaining("set the addresses at the panels, by this list.")]);
  });
});
