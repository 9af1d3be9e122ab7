import { randomBytes } from "node:crypto";
import { existsSync } from "node:fs";
import type { FileJournal } from "../../io/store/journal.ts";
import { EVENT_VERSION } from "../../run/events/event.ts";
import { type FixtureSaid, saidBody } from "../../run/events/fixture-said.ts";
import type { FixtureReading } from "../../wire/rdm/fixture.ts";
import { openHere } from "../journal/with-journal.ts";

/** What a fixture last said of itself, and when, as the journal has it; undefined where it never did. */
export const lastSaid = async (
  journal: FileJournal,
  serial: string,
): Promise<(FixtureSaid & { readonly at: string }) | undefined> => {
  for (const { run } of (await journal.briefs({ kind: "fixture", serial })).toReversed()) {
    const said = (await journal.events(run)).findLast(({ body }) => body.kind === "fixture-said");
    if (said?.body.kind === "fixture-said") return { ...said.body, at: said.at };
  }
  return undefined;
};

/** Keeps a reading with the latest run of this serial number; says where, or that there is no such run. */
export const keepSaid = async (
  { journal: file, person }: { readonly journal: string; readonly person: string },
  serial: string,
  reading: FixtureReading,
): Promise<string> => {
  const nowhere = "It is not saved: this serial number has no run in the journal yet.";
  if (!existsSync(file)) return nowhere;
  const journal = await openHere(file);
  try {
    const last = (await journal.briefs({ kind: "fixture", serial })).at(-1);
    if (!last) return nowhere;
    const { run, bench } = last;
    const id = `${run}-said-${randomBytes(6).toString("hex")}`;
    const at = new Date().toISOString();
    await journal.append({ id, v: EVENT_VERSION, bench, person, at, run, body: saidBody(reading) });
    return `Saved with run ${run}.`;
  } finally {
    await journal.close();
  }
};
