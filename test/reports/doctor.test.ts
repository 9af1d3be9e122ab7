import { expect, test } from "vitest";
import { isOlder } from "../../src/domain/problem/version.ts";
import { type ComputerFacts, checkComputer, doctorText } from "../../src/reports/doctor.ts";

const WELL: ComputerFacts = {
  versions: { limber: "0.1.0", node: "22.3.0", needed: "20.19", system: "Linux 6.1, x64" },
  ports: {
    kind: "listed",
    ports: [
      { path: "/dev/ttyUSB0", usb: true, serialNumber: "EN1", forbidden: undefined },
      { path: "/dev/ttyS0", usb: false, serialNumber: undefined, forbidden: undefined },
    ],
  },
  asked: { kind: "answered", path: "serial:/dev/ttyUSB0", says: ["firmware 1.68", "40 packets a second"] },
  addresses: [{ address: "10.0.0.7", card: "eth0" }],
  journal: {
    kind: "opened",
    file: "/data/journal.db",
    bytes: 3_200_000,
    free: 5e9,
    events: 1234,
    findings: [],
    othersMayRead: false,
  },
  beat: { late: 0, of: 80, busiest: [], priority: "raised" },
  speaks: "espeak-ng",
  terminal: { isTerminal: true, columns: 100, rows: 30, coloured: true, unicode: true },
  files: { profiles: 16, sequences: 11 },
};

test("a computer that lacks nothing: a line for each thing, and nothing to do", () => {
  expect(doctorText(checkComputer(WELL), 80)).toBe(
    `good     Limber       0.1.0 on Linux 6.1, x64
good     Node         22.3.0
good     data files   profiles: 16, sequences: 11
good     serial port  /dev/ttyUSB0, serial number EN1
good     interface    serial:/dev/ttyUSB0 answers: firmware 1.68, 40 packets a
                      second
good     network      10.0.0.7 (eth0)
good     journal      /data/journal.db, 1234 events, 3.2 MB, all as written
good     frames       80 of 80 frames on time; in a run frames go before other
                      programs
good     speech       espeak-ng
good     terminal     100 columns, 30 rows, colours

Nothing stands in the way of a run.`,
  );
});

test("a computer that does not hold the beat: what to close, by name", () => {
  const busiest = [
    { name: "browser", percent: 96 },
    { name: "updater", percent: 41 },
  ];
  expect(checkComputer({ ...WELL, beat: { late: 12, of: 80, busiest, priority: "not allowed" } })).toContainEqual({
    about: "frames",
    state: "note",
    found: "68 of 80 frames on time; the system does not let frames go before other programs",
    todo: "close what else runs: browser (96 % of a processor), updater (41 % of a processor)",
  });
});

const { journal } = WELL;
test.each<{ because: string; but: Partial<ComputerFacts>; about: string; state: string; todo: RegExp }>([
  {
    because: "an old Node",
    but: { versions: { ...WELL.versions, node: "18.20.8" } },
    about: "Node",
    state: "trouble",
    todo: /install Node 20.19 or later/,
  },
  {
    because: "data files that are not there",
    but: { files: { profiles: 0, sequences: 11 } },
    about: "data files",
    state: "trouble",
    todo: /again/,
  },
  {
    because: "a program that lists ports is missing",
    but: { ports: { kind: "cannot-list", why: "udevadm is not installed" } },
    about: "serial ports",
    state: "trouble",
    todo: /install/,
  },
  {
    because: "nothing plugged in, which is no fault",
    but: { ports: { kind: "listed", ports: [] } },
    about: "serial ports",
    state: "note",
    todo: /plug one in/,
  },
  {
    because: "a port that may not be opened",
    but: {
      ports: {
        kind: "listed",
        ports: [{ path: "/dev/ttyUSB0", usb: true, serialNumber: undefined, forbidden: "only the group dialout may" }],
      },
    },
    about: "serial port",
    state: "trouble",
    todo: /dialout/,
  },
  {
    because: "an interface that says nothing of itself, as many do",
    but: { asked: { kind: "silent", path: "serial:/dev/ttyUSB0" } },
    about: "interface",
    state: "note",
    todo: /break:PATH/,
  },
  {
    because: "an interface that does not open",
    but: { asked: { kind: "cannot-open", path: "serial:/dev/ttyUSB0", why: "another program has it open" } },
    about: "interface",
    state: "trouble",
    todo: /first/,
  },
  { because: "no network", but: { addresses: [] }, about: "network", state: "note", todo: /serial:/ },
  {
    because: "a damaged journal",
    but: { journal: { kind: "cannot-open", file: "/data/journal.db", why: "it is damaged" } },
    about: "journal",
    state: "trouble",
    todo: /journal.db/,
  },
  {
    because: "a journal with something missing",
    but: { journal: { ...journal, kind: "opened", findings: ["12 events are missing"] } as ComputerFacts["journal"] },
    about: "journal",
    state: "trouble",
    todo: /journal check/,
  },
  {
    because: "a journal that others may read",
    but: { journal: { ...journal, othersMayRead: true } as ComputerFacts["journal"] },
    about: "journal",
    state: "trouble",
    todo: /chmod 600/,
  },
  {
    because: "a disk that is nearly full",
    but: { journal: { kind: "none", file: "/data/journal.db", free: 50_000_000 } },
    about: "disk",
    state: "trouble",
    todo: /make room/,
  },
  { because: "no speech program", but: { speaks: undefined }, about: "speech", state: "note", todo: /espeak-ng/ },
  {
    because: "a terminal that is too small",
    but: { terminal: { ...WELL.terminal, columns: 60 } },
    about: "terminal",
    state: "note",
    todo: /80 by 24/,
  },
  {
    because: "an old character set",
    but: { terminal: { ...WELL.terminal, unicode: false } },
    about: "terminal",
    state: "note",
    todo: /UTF-8/,
  },
  {
    because: "no terminal at all",
    but: { terminal: { ...WELL.terminal, isTerminal: false } },
    about: "terminal",
    state: "note",
    todo: /terminal/,
  },
])("$because: $state, with what to do", ({ but, about, state, todo }) => {
  const found = checkComputer({ ...WELL, ...but }).filter((one) => one.about === about && one.state !== "good");
  expect(found).toEqual([{ about, state, found: expect.any(String), todo: expect.stringMatching(todo) }]);
});

test("what is to be done stands under its line, and is counted", () => {
  const text = doctorText(checkComputer({ ...WELL, versions: { ...WELL.versions, node: "18.20.8" } }), 80);
  expect(text).toContain(
    "TROUBLE  Node         18.20.8 is too old\n                      -> install Node 20.19 or later",
  );
  expect(text).toContain("1 thing to put right.");
});

test.each([
  { version: "v20.18.3", needed: "20.19", older: true },
  { version: "20.19.0", needed: "20.19", older: false },
  { version: "20.19", needed: "20.19.1", older: true },
  { version: "100.0.0", needed: "20.19", older: false },
  { version: "9.9.9", needed: "20.19", older: true },
])("$version is older than $needed: $older", ({ version, needed, older }) => {
  expect(isOlder(version, needed)).toBe(older);
});
