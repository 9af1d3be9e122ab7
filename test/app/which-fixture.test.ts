import { expect, test } from "vitest";
import { agreedSerial, nearestTo, openElsewhere } from "../../src/app/fixture/which-fixture.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { shippedProfile } from "../kit/shipped.ts";
import { eventsOf, type Happened } from "../run/memory/happened.ts";

const journalOf = async (...happened: readonly Happened[]) => {
  const journal = memoryJournal();
  for (const event of happened.flatMap(eventsOf)) await journal.append(event);
  return journal;
};
const ASKED = {
  profile: shippedProfile("spot-16bit"),
  simulated: false,
  person: "KM",
  bench: "bench one",
  isNew: false,
  otherKind: "",
};
/** The profile of these runs says of no fixture what mode it is of: its own name is the kind. */
const KNOWN = { run: "1", serial: "A-17" };
const SPOT = { ...ASKED, profile: { ...ASKED.profile, fixture: "spot" } };

test("a known serial number is taken as the journal has it, however it is spelt now", async () => {
  expect(await agreedSerial(await journalOf(KNOWN), { ...SPOT, serial: " a-17" })).toEqual({ ok: true, value: "A-17" });
});

test("one that is in no run is asked about, with the nearest that is; where nobody can be asked it is refused", async () => {
  const said = await agreedSerial(await journalOf(KNOWN), { ...SPOT, serial: "A-l7" });
  expect(said.ok ? "" : said.problems[0]?.message).toBe("A-l7 is in no run yet; the nearest that is: A-17");
  expect((await agreedSerial(await journalOf(KNOWN), { ...SPOT, serial: "A-l7", isNew: true })).ok).toBe(true);
  expect((await agreedSerial(memoryJournal(), { ...SPOT, serial: "A-l7" })).ok).toBe(true);
});

test("a number with a character that nobody can see, or of mixed alphabets, is refused", async () => {
  for (const serial of ["A\u200b-17", "\u0410-17B"])
    expect((await agreedSerial(await journalOf(KNOWN), { ...SPOT, serial, isNew: true })).ok).toBe(false);
});

test("another kind of fixture under a known number wants a reason, and the change is kept with it", async () => {
  const journal = await journalOf(KNOWN);
  const wash = { ...ASKED, profile: { ...ASKED.profile, fixture: "wash" }, serial: "A-17" };
  const refused = await agreedSerial(journal, wash);
  expect(refused.ok ? "" : refused.problems[0]?.message).toBe(
    "A-17 was a fixture of kind spot before, and is wash now",
  );
  expect((await agreedSerial(journal, { ...wash, otherKind: "sold and bought anew" })).ok).toBe(true);
  expect((await journal.events()).at(-1)?.body).toEqual({
    kind: "kind-changed",
    from: "spot",
    to: "wash",
    initials: "KM",
    note: "sold and bought anew",
  });
  expect((await agreedSerial(journal, wash)).ok).toBe(true);
});

test("a fixture that another bench has open is said to be open there; one's own open run is no news", async () => {
  const journal = await journalOf(
    { run: "20261102-one", serial: "A-17", bench: "bench one", ended: "open" },
    { run: "20261102-two", serial: "A-17", bench: "bench two", ended: "open" },
    { run: "20261102-three", serial: "A-17", bench: "bench three" },
  );
  const runs = await journal.briefs({ kind: "all" });
  expect(openElsewhere(runs, "bench one", new Set())).toEqual([
    'A-17 is open at the bench "bench two" too: run 20261102-two, begun 2026-11-02 09:00 UTC. Is it really here?',
  ]);
  expect(openElsewhere(runs.slice(0, 1), "bench one", new Set())).toEqual([]);
  // In a share benches are told apart though they are called alike.
  expect(openElsewhere(runs.slice(0, 1), "bench one", new Set(["20261102-one"]))).toEqual([
    "A-17 is open at another bench of the share too: run 20261102-one, begun 2026-11-02 09:00 UTC. Is it really here?",
  ]);
});

test.each([
  ["A-1O", "A-10", "a letter for a digit"],
  ["a 17", "A-17", "a blank for a dash"],
  ["A-717", "A-17", "one digit more"],
])("%s: the nearest is %s (%s)", (serial, nearest) => {
  expect(nearestTo(serial, ["A-10", "A-17", "Z-999"])).toBe(nearest);
});
