import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { nameTrouble } from "../../domain/problem/identity.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { addressProblems, load } from "../common/data.ts";
import { print, refuse } from "../common/output.ts";
import { nearestTo } from "../fixture/which-fixture.ts";
import type { Phone, PhoneQuestion } from "../phone/beside.ts";
import { askLine, withRuns } from "./afterwards.ts";

/** What a fixture is, and where on its line it listens. */
export type FixtureSetting = Pick<RunSummary, "profile" | "universe" | "address">;

interface NewOptions {
  readonly journal: string;
  readonly phone: Phone | undefined;
}

/**
 * A serial number that was never seen here is asked for its kind and its place on the line, once: each until the answer
 * can be right. Undefined where the number may not be used, or where somebody leaves the fixture.
 */
export const newFixture = async (
  serial: string,
  { journal, phone }: NewOptions,
): Promise<FixtureSetting | undefined> => {
  const trouble = nameTrouble(serial);
  if (trouble !== undefined) {
    print(`${safeText(serial)} ${trouble}: type it again.`);
    return undefined;
  }
  const runs = await withRuns(journal, (open) => open.briefs({ kind: "all" }));
  const near = nearestTo(serial, [...new Set(runs.map((run) => run.serial))]);
  print(`${safeText(serial)} is new here${near === undefined ? "" : `; the nearest that is not: ${safeText(near)}`}.`);
  const kind = await askKind(serial, runs, phone);
  return kind && (await askAddress(serial, kind, phone));
};

interface Kind {
  readonly name: string;
  readonly profile: Profile;
}

const MOST_DIGITS = 9;

/** The kinds of the latest runs have digits, or else the first of the library; all others are there by their names. */
const askKind = async (
  serial: string,
  runs: readonly RunSummary[],
  phone: Phone | undefined,
): Promise<Kind | undefined> => {
  const shelf = fileLibrary();
  const all = shelf.names("profiles");
  const recent = [...new Set(runs.toReversed().map(({ profile }) => profile))];
  const listed = (recent.length > 0 ? recent : all).slice(0, MOST_DIGITS);
  const others = all.filter((name) => !listed.includes(name));
  for (const [at, name] of listed.entries()) print(`  ${at + 1}  ${safeText(name)}`);
  if (others.length > 0) print(`  By name: ${others.map(safeText).join(", ")}.`);
  for (;;) {
    const line = await askLine(
      phone,
      "Its kind: a digit, or the name of a profile. ENTER alone: leave this fixture.",
      kindQuestion(serial, listed, others),
    );
    if (!line) return undefined;
    const name = /^[1-9]$/.test(line) ? (listed[Number(line) - 1] ?? line) : line;
    const found = load(shelf, "profiles", name, parseProfile);
    if (found.ok) return { name, profile: found.value.value };
    refuse(found.problems);
  }
};

const kindQuestion = (serial: string, listed: readonly string[], others: readonly string[]): PhoneQuestion => ({
  headline: `${safeText(serial)} is new here`,
  lines: ["Which kind is it?"],
  answers: [
    ...[...listed, ...others].map((name) => ({ words: safeText(name), line: name })),
    { words: "leave this fixture", line: "" },
  ],
  field: undefined,
});

/** A wrong address would move another fixture: one that cannot be right is asked for again. */
const askAddress = async (
  serial: string,
  { name, profile }: Kind,
  phone: Phone | undefined,
): Promise<FixtureSetting | undefined> => {
  for (;;) {
    const line = await askLine(phone, "Its address, or universe.address. ENTER alone: universe 1, address 1.", {
      headline: `Where does ${safeText(serial)} listen?`,
      lines: [],
      answers: [{ words: "universe 1, address 1", line: "" }],
      field: { words: "Its address, or universe.address", by: "digits" },
    });
    if (line === undefined) return undefined;
    const [, universe = "1", address] = /^(?:(\d{1,5})\.)?(\d{1,3})$/.exec(line || "1") ?? [];
    const setting = { profile: name, universe: Number(universe), address: Number(address) };
    const wrong =
      address === undefined
        ? [{ message: `"${line}" is not an address`, hint: "type 1 to 512, or universe and address as 2.31" }]
        : addressProblems(profile, setting.address, setting.universe);
    if (wrong.length === 0) return setting;
    for (const { message, hint } of wrong) print(safeText(`${message}: ${hint}.`));
  }
};
