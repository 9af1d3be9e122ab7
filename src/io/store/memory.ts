import { identityKey, isSameName } from "../../domain/problem/identity.ts";
import { casesIn, digestsOf, readingProfiles } from "../../run/events/digest.ts";
import { askedOf, isNameless } from "../../run/events/summary.ts";
import type { Journal } from "../../run/ports.ts";
import { standingIn } from "../../run/release/release-status.ts";
import { type EventRow, eventIn, toRow } from "./row.ts";

/** A journal that lasts as long as the program, for simulated runs. It refuses what the journal on disk would refuse. */
export const memoryJournal = (): Journal => {
  const stored = new Map<string, EventRow & { readonly number: number }>();
  const profileOf = readingProfiles();
  const events = () => [...stored.values()].map((row) => eventIn(row, "memory"));
  const digests = () => digestsOf(events(), profileOf);
  return {
    append: async (event) => {
      const row = toRow(event);
      const there = stored.get(row.id);
      if (there && there.event !== row.event) throw new Error(`Bug: another event has the id ${row.id}`);
      if (!there) stored.set(row.id, { ...row, number: stored.size + 1 });
    },
    events: async (run) => events().filter((event) => run === undefined || event.run === run),
    past: async (serial) => {
      const runs = new Set(digests().flatMap(({ brief }) => (isSameName(brief.serial, serial) ? [brief.run] : [])));
      return events().filter(({ run }) => runs.has(run));
    },
    briefs: async (which) =>
      askedOf(
        digests().map(({ brief }) => brief),
        which,
      ),
    head: async () => undefined,
    openElsewhere: async () => new Set(),
    cases: async () => casesIn(digests()),
    standings: async (which) => {
      const serials = new Set(
        digests().flatMap(({ brief: { serial } }) => (isNameless(serial) ? [] : [identityKey(serial)])),
      );
      const asked = [...serials].filter((serial) => which.kind === "all" || serial === identityKey(which.serial));
      return new Map(asked.map((serial) => [serial, standingIn(events(), serial, profileOf)]));
    },
    close: async () => undefined,
  };
};
