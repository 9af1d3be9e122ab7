import { homedir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { journalPlace } from "../../../src/io/data-folder.ts";

/** XDG Base Directory Specification 0.8: default, and "if an implementation encounters a relative path ... ignore it". From memory. */
test.each([
  { env: { XDG_DATA_HOME: "/data/ab", HOME: "/home/ab" }, place: "/data/ab/limber/journal.db", because: "it was told" },
  { env: { HOME: "/home/ab" }, place: "/home/ab/.local/share/limber/journal.db", because: "that is the default" },
  {
    env: { XDG_DATA_HOME: "", HOME: "/home/ab" },
    place: "/home/ab/.local/share/limber/journal.db",
    because: "empty is not set",
  },
  {
    env: { XDG_DATA_HOME: "data", HOME: "/home/ab" },
    place: "/home/ab/.local/share/limber/journal.db",
    because: "relative counts for nothing",
  },
  { env: {}, place: join(homedir(), ".local/share/limber/journal.db"), because: "the system knows the home as well" },
])("the journal lies in $place, because $because", ({ env, place }) => {
  expect(journalPlace(env)).toBe(place);
});
