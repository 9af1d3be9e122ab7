import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "@photostructure/sqlite";
import fc from "fast-check";
import { expect, onTestFinished, test } from "vitest";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { canonical, hashOf } from "../../../src/run/events/chain.ts";
import { EVENT_VERSION, type RunEvent } from "../../../src/run/events/event.ts";
import { BATCH, exchange } from "../../../src/run/sharing/exchange.ts";
import { eventsOf, foundBody } from "../../run/memory/happened.ts";
import { meetingPlace } from "./meeting-place.ts";

interface Bench {
  readonly file: string;
  table: JournalTable;
}

const benchIn = (folder: string, name: string): Bench => {
  const file = join(folder, `${name}.db`);
  return { file, table: openTable(file, 5) };
};
const folderOf = (): string => {
  const folder = mkdtempSync(join(tmpdir(), "limber-share-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
};
const write = ({ table }: Bench, events: readonly RunEvent[]) => table.insert(events.map(toRow));
const level = (table: JournalTable): void => {
  do while (table.derived.catchUp(1000).left > 0);
  while (table.derived.standings({ kind: "all" }, 0, 1000)?.kind !== "all");
};

/** Everything that is derived, byte for byte, and every event with its place. */
const tablesOf = ({ table, file }: Bench) => {
  level(table);
  const database = new DatabaseSync(file);
  const rows = (sql: string) =>
    database
      .prepare(sql)
      .all()
      .map((row) => Object.values(row).map(String).join("\t"));
  const all = {
    runs: rows("SELECT * FROM runs ORDER BY begun"),
    fixtures: rows("SELECT * FROM fixtures ORDER BY fixture"),
    events: rows("SELECT origin, number, time, counter, hex(hash), event FROM events ORDER BY time, counter, origin"),
  };
  database.close();
  return all;
};
const told = ({ table }: Bench) => table.page({ kind: "all" }, undefined, 10_000).map(({ event }) => event);

const NEVER_BREAKS = 60;

/** One thing that happens. Serial numbers are few, so that benches meet at the same fixtures; clocks are hours off. */
const happenings = fc.array(
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.record({
        kind: fc.constant("writes" as const),
        bench: fc.nat(2),
        serial: fc.constantFrom("A-1", "A-2"),
        result: fc.constantFrom("pass", "fail"),
        found: fc.boolean(),
        ended: fc.constantFrom("finished", "open"),
        hoursOff: fc.integer({ min: -30, max: 30 }),
      }),
    },
    /** A repair is written with the latest run of the fixture, at whichever bench that was. */
    {
      weight: 4,
      arbitrary: fc.record({
        kind: fc.constant("repairs" as const),
        bench: fc.nat(2),
        hoursOff: fc.integer({ min: -30, max: 30 }),
      }),
    },
    /** The connection breaks after so many steps of the exchange; or never. */
    {
      weight: 5,
      arbitrary: fc.record({
        kind: fc.constant("meets" as const),
        bench: fc.nat(2),
        breaksAfter: fc.oneof(fc.nat(20), fc.constant(NEVER_BREAKS)),
      }),
    },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant("reopens" as const), bench: fc.nat(2) }) },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant("folds" as const), bench: fc.nat(2) }) },
  ),
  { minLength: 10, maxLength: 30, size: "max" },
);

type Happening = typeof happenings extends fc.Arbitrary<readonly (infer One)[]> ? One : never;

test("whatever the order, the cuts and the clocks: in the end all benches derive the same, byte for byte, and no event is lost or there twice", async () => {
  await fc.assert(
    fc.asyncProperty(happenings, async (all) => {
      const folder = mkdtempSync(join(tmpdir(), "limber-share-"));
      const place = meetingPlace();
      const benches = ["one", "two", "three"].map((name) => benchIn(folder, name));
      const written: string[] = [];
      for (const [n, one] of all.entries()) written.push(...(await happen(n, one, benches[one.bench]!, place)));
      // Everybody once to send, and once more to hear the rest.
      for (const bench of [...benches, ...benches])
        expect((await exchange(bench.table.share, place.kind)).refused).toEqual([]);
      const [first, ...others] = benches.map(tablesOf);
      for (const other of others) expect(other).toEqual(first);
      expect(
        told(benches[0]!)
          .map((text) => JSON.parse(text).id)
          .toSorted(),
      ).toEqual(written.toSorted());

      // Folded from nothing in another order of arrival, by a bench that comes late.
      const late = benchIn(folder, "late");
      await exchange(late.table.share, place.kind);
      expect(tablesOf(late)).toEqual(first);
      for (const bench of [...benches, late]) {
        expect(bench.table.check.chain(undefined, 10_000).findings).toEqual([]);
        bench.table.close();
      }
      rmSync(folder, { recursive: true, force: true });
    }),
    { numRuns: 40, endOnFailure: true },
  );
}, 240_000);

/** The ids of what was written. */
const happen = async (
  n: number,
  one: Happening,
  bench: Bench,
  place: ReturnType<typeof meetingPlace>,
): Promise<readonly string[]> => {
  switch (one.kind) {
    case "meets":
      await exchange(bench.table.share, place.seenBy(breaking(one.breaksAfter))).catch(() => undefined);
      return [];
    case "reopens":
      bench.table.close();
      bench.table = openTable(bench.file, 5);
      return [];
    case "folds":
      level(bench.table);
      return [];
    default: {
      const events = one.kind === "writes" ? run(n, one) : repair(n, bench, one.hoursOff);
      write(bench, events);
      return events.map(({ id }) => id);
    }
  }
};

const breaking = (after: number) => {
  let steps = 0;
  return () => {
    steps += 1;
    if (steps > after && after < NEVER_BREAKS) throw new Error("the connection broke");
  };
};

const at = (n: number, hoursOff: number) =>
  new Date(Date.parse("2026-11-02T09:00:00.000Z") + n * 600_000 + hoursOff * 3_600_000).toISOString();

const run = (
  n: number,
  {
    serial,
    result,
    found,
    ended,
    hoursOff,
  }: {
    readonly serial: string;
    readonly result: "pass" | "fail";
    readonly found: boolean;
    readonly ended: "finished" | "open";
    readonly hoursOff: number;
  },
) =>
  eventsOf({
    run: `run-${n}`,
    serial,
    at: at(n, hoursOff),
    steps: [{ of: "Pan", result }],
    ...(found ? { after: [foundBody("pan-belt-slack")] } : {}),
    ended,
  });

const repair = (n: number, { table }: Bench, hoursOff: number): readonly RunEvent[] => {
  level(table);
  const last = table.derived.briefs({ kind: "all" }, 0)?.at(-1);
  if (!last) return [];
  const body = {
    kind: "repaired",
    what: "fault",
    fault: "pan-belt-slack",
    part: "",
    minutes: 5,
    initials: "KM",
    note: "",
  } as const;
  return [{ id: `repair-${n}`, v: 1, bench: "b", person: "KM", at: at(n, hoursOff), run: JSON.parse(last).run, body }];
};

test("a head that failed at one bench and was repaired at another is one story, in the order in which it was known", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  write(a, run(1, { serial: "A-1", result: "fail", found: true, ended: "finished", hoursOff: 5 }));
  await exchange(a.table.share, place.kind);
  await exchange(b.table.share, place.kind);
  // Its clock is ten hours behind; what it writes comes after what it knew all the same.
  write(b, repair(2, b, -5));
  await exchange(b.table.share, place.kind);
  await exchange(a.table.share, place.kind);
  level(a.table);
  const [brief] = a.table.derived.briefs({ kind: "fixture", serial: "A-1" }, 0)!;
  expect(JSON.parse(brief!)).toMatchObject({
    finds: [{ fault: "pan-belt-slack" }],
    repairs: [{ fault: "pan-belt-slack" }],
  });
  expect(told(a)).toEqual(told(b));
  expect(JSON.parse(told(a).at(-1)!).id).toBe("repair-2");
});

test("more events than go in one batch come over whole, and a cut in the middle loses none", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  for (let n = 0; n < BATCH; n++)
    write(a, run(n, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
  for (const bench of [a, b])
    for (let breaksAfter = 1; ; breaksAfter += 2) {
      let steps = 0;
      const done = await exchange(
        bench.table.share,
        place.seenBy(() => {
          if (++steps > breaksAfter) throw new Error("cut");
        }),
      ).catch(() => undefined);
      if (done) break;
    }
  expect(told(b)).toEqual(told(a));
});

test.each([
  { what: "nothing was written since", since: 0 },
  { what: "more was written since than was lost", since: 9 },
  { what: "less was written since than was lost", since: 1 },
])("a bench restored from an old backup ($what): no number twice, nothing lost, a new bench id", async ({ since }) => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  const one = (n: number) => run(n, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 });
  write(a, one(1));
  const backup = join(folder, "backup.db");
  a.table.backup(backup);
  write(a, one(2));
  await exchange(a.table.share, place.kind);
  const lost = told(a);
  const [before] = a.table.share.owns();

  const restored: Bench = { file: backup, table: openTable(backup, 5) };
  for (let n = 0; n < since; n++) write(restored, one(10 + n));
  const { renewed } = await exchange(restored.table.share, place.kind);
  expect(renewed).toHaveLength(1);
  expect(restored.table.share.owns().at(-1)).not.toBe(before);
  write(restored, one(99));
  for (const bench of [restored, b, a]) await exchange(bench.table.share, place.kind);
  const all = told(restored);
  expect(all).toEqual(expect.arrayContaining([...lost]));
  expect(all).toHaveLength(lost.length + (since + 1) * one(1).length);
  expect(new Set(all).size).toBe(all.length);
  for (const bench of [a, b]) expect(tablesOf(bench)).toEqual(tablesOf(restored));
  for (const bench of [restored, b, a]) expect(bench.table.check.chain(undefined, 10_000).findings).toEqual([]);
});

test("a journal copied to a second computer and written at both: two chains from there on", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const a = benchIn(folder, "a");
  write(a, run(1, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
  const copy = join(folder, "copy.db");
  a.table.backup(copy);
  const b: Bench = { file: copy, table: openTable(copy, 5) };
  for (const [n, bench] of [a, b, a, b].entries()) {
    write(bench, run(10 + n, { serial: "A-1", result: "fail", found: false, ended: "finished", hoursOff: 0 }));
    await exchange(bench.table.share, place.kind);
  }
  for (const bench of [a, b, a]) await exchange(bench.table.share, place.kind);
  expect(tablesOf(a)).toEqual(tablesOf(b));
  expect(told(a)).toHaveLength(5 * 4);
});

test.each([
  {
    what: "changed",
    spoil: (all: { event: string }[]) => {
      all[1] = { ...all[1]!, event: all[1]!.event.replace("Pan", "Tilt") };
    },
    number: 2,
  },
  {
    what: "missing",
    spoil: (all: unknown[]) => {
      all.splice(1, 1);
    },
    number: 2,
  },
])(
  "an event that is $what on the server is refused with its number, and the other benches come in",
  async ({ spoil, number }) => {
    const folder = folderOf();
    const place = meetingPlace();
    const [a, b, c] = [benchIn(folder, "a"), benchIn(folder, "b"), benchIn(folder, "c")];
    write(a, run(1, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
    write(b, run(2, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
    for (const bench of [a, b]) await exchange(bench.table.share, place.kind);
    const [origin] = a.table.share.owns();
    spoil(place.events.get(origin!)! as never[]);
    const { refused } = await exchange(c.table.share, place.kind);
    expect(refused).toEqual([expect.objectContaining({ origin })]);
    expect(refused[0]!.number).toBeGreaterThanOrEqual(number);
    expect(c.table.share.head(b.table.share.owns()[0]!)).toMatchObject({ number: 4 });
    expect(c.table.share.head(origin!)).toMatchObject({ number: 1 });
  },
);

test("a bench that was forgotten sends nothing more, and what it sent before stays", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  write(a, run(1, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
  await exchange(a.table.share, place.kind);
  place.forgotten.add(a.table.share.owns()[0]!);
  write(a, run(2, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
  expect(await exchange(a.table.share, place.kind)).toMatchObject({ forgotten: true, pushed: 0 });
  await exchange(b.table.share, place.kind);
  expect(told(b)).toHaveLength(4);
});

test("events of a newer version are kept and counted, and everything else is read", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  write(a, run(1, { serial: "A-1", result: "pass", found: false, ended: "finished", hoursOff: 0 }));
  await exchange(a.table.share, place.kind);
  const [origin] = a.table.share.owns();
  const last = place.events.get(origin!)!.at(-1)!;
  const event = canonical({ ...JSON.parse(last.event), id: "new", v: EVENT_VERSION + 1, body: { kind: "unheard-of" } });
  const link = { ...last, number: last.number + 1, time: last.time + 1, before: last.hash, event };
  place.events.get(origin!)!.push({ ...link, hash: hashOf(link, event) });
  await exchange(b.table.share, place.kind);
  expect(b.table.share.newer()).toBe(1);
  level(b.table);
  expect(b.table.derived.briefs({ kind: "all" }, 0)).toHaveLength(1);
  expect(b.table.check.chain(undefined, 100).findings).toEqual([]);
});

test("a serial number that is open at two benches is told at both", async () => {
  const folder = folderOf();
  const place = meetingPlace();
  const [a, b] = [benchIn(folder, "a"), benchIn(folder, "b")];
  for (const [n, bench] of [a, b].entries())
    write(bench, run(n, { serial: "A-1", result: "pass", found: false, ended: "open", hoursOff: 0 }));
  for (const bench of [a, b, a]) await exchange(bench.table.share, place.kind);
  for (const { table } of [a, b]) {
    level(table);
    expect(table.share.openTwice()).toMatchObject([{ serial: "A-1", runs: [{ run: "run-0" }, { run: "run-1" }] }]);
  }
});

test("what a server sends that is no event is refused, whatever it is", async () => {
  const folder = folderOf();
  const { table } = benchIn(folder, "a");
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
      const link = { origin: "0123456789ab", number: 1, time: 1, counter: 0, before: "0".repeat(64) };
      const refused = table.share.receive([{ ...link, event: text, hash: hashOf(link, text) }]);
      expect(refused).toMatchObject({ number: 1 });
    }),
    { numRuns: 60 },
  );
  expect(told({ file: "", table })).toEqual([]);
});
