import { expect, test } from "vitest";
import { constantsIn } from "../../src/app/fixture/fixture-past.ts";
import { knowing } from "../../src/app/fixture/job.ts";
import { knowledgeIn, sheetFrom } from "../../src/app/fixture/play-run.ts";
import { NOTHING_LEARNED } from "../../src/diagnosis/model/shop.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { knownIn } from "../../src/run/session/job.ts";
import { failing, pressing } from "../diagnosis/places/kit/pressed-run.ts";
import { KEEN } from "../diagnosis/places/kit/session.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { shippedProfile } from "../kit/shipped.ts";

const FULL = "{ sweep: Pan, deg_per_s: 60, passes: 10 }";
const spot = shippedProfile("spot-16bit");

/** A journal with so many runs in which somebody pressed for one place on every pass, a quarter of a second later than people usually do. */
const journalOf = async (runs: number, simulated: boolean, person = "KM") => {
  const journal = memoryJournal();
  for (let n = 0; n < runs; n++) {
    const slow = { ...KEEN, slowness: 0.25 };
    const run = pressing(
      new Driven(jobOf([FULL], { simulated })).started(),
      { kind: "position", place: 40 + n },
      slow,
      n + 1,
    );
    failing(run, "jerks").send({ kind: "confirm" });
    for (const [at, body] of run.bodies.entries())
      await journal.append({
        id: `r${n}-${String(at).padStart(5, "0")}`,
        v: 1,
        bench: "bench",
        person,
        at: "2026-11-25T18:50:07.000Z",
        run: `r${n}`,
        body,
      });
  }
  return journal;
};

test("from a journal's presses: how quick a person is, said with how many presses, and used once there are 30", async () => {
  const journal = await journalOf(4, false);
  const constants = await constantsIn(journal);
  expect(constants.people).toMatchObject([{ person: "KM", presses: 40, enough: true }]);
  // The usual reaction is 0.4 s; these come 0.25 s later.
  expect(constants.people[0]!.reaction).toBeCloseTo(0.65, 1);
  const job = knowing(jobOf([FULL], { simulated: false }), [], NOTHING_LEARNED, constants);
  expect(knownIn({ job, person: "KM" }).quickness.mean).toBe(constants.people[0]!.reaction);
  expect(knownIn({ job, person: "JK" }).words).toBeUndefined();
  expect((await sheetFrom(journal, "r3", spot, await knowledgeIn(journal))).quickness).toMatch(
    /^KM presses after 0\.6\d s \(40 presses\), misses 0 of 40/,
  );
});

test("with too few presses the usual values are used, and it is said so", async () => {
  const journal = await journalOf(2, false);
  const [person] = (await constantsIn(journal)).people;
  expect(person).toMatchObject({ presses: 20, enough: false });
  expect((await sheetFrom(journal, "r1", spot, await knowledgeIn(journal))).quickness).toContain(
    "too few yet, the usual values are used",
  );
});

test("nobody's presses are nobody's, and a simulated fixture is another kind than the real one", async () => {
  expect((await constantsIn(await journalOf(1, false, ""))).people).toEqual([]);
  expect((await constantsIn(await journalOf(1, true))).lags).toMatchObject([{ profile: "spot-16bit, simulated" }]);
});
