import { identityKey } from "../../domain/problem/identity.ts";
import { hintFor } from "../../domain/problem/nearest.ts";
import { problem } from "../../domain/problem/problem.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import type { FixtureLabel, LabelSize } from "../../reports/page/label-page.ts";
import { dueNextInWords } from "../../run/release/offers.ts";
import { VERDICT_WORDS, verdictOf } from "../../run/release/verdict.ts";
import { deliver } from "../common/deliver.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { shopFor } from "../common/shop.ts";
import { offersFor } from "./levels.ts";
import { withJournal } from "./with-journal.ts";

export interface LabelOptions {
  readonly journal: string;
  readonly shop: string;
  readonly size: LabelSize;
  /** A file to write; without it the page is printed. */
  readonly out: string | undefined;
}

/** Labels to scan: each serial number as QR code and Code 128, with its verdict, its level and what is due next. */
export const writeLabels = (serials: readonly string[], options: LabelOptions): Promise<ExitCode> =>
  withJournal(options.journal, async (journal) => {
    const labels: FixtureLabel[] = [];
    for (const serial of serials) {
      const label = await labelFor(journal, serial, options);
      if (!label) return refuse([await unknown(journal, serial)]);
      labels.push(label);
    }
    const { labelPage } = await import("../../reports/page/label-page.ts");
    return labels.length === 0 ? EXIT.input : deliver(labelPage(labels, options.size), options.out);
  });

const labelFor = async (
  journal: FileJournal,
  serial: string,
  { journal: file, shop }: LabelOptions,
): Promise<FixtureLabel | undefined> => {
  const which = { kind: "fixture", serial } as const;
  const last = (await journal.briefs(which)).at(-1);
  const standing = (await journal.standings(which)).get(identityKey(serial));
  if (!last || !standing) return undefined;
  const verdict = verdictOf(standing);
  const level = verdict.kind === "released" ? verdict.level : "";
  const offers = level === "" ? undefined : await offersFor(journal, last.serial, shopFor(file, shop));
  const offer = offers?.ok ? offers.value.find((one) => one.level === level) : undefined;
  return {
    serial: last.serial,
    verdict: VERDICT_WORDS[verdict.kind],
    level,
    due: offer ? dueNextInWords(offer) : "",
    simulated: last.simulated,
  };
};

const unknown = async (journal: FileJournal, serial: string) => {
  const serials = [...new Set((await journal.briefs({ kind: "all" })).map((brief) => brief.serial))];
  const hint = hintFor(serial, serials) ?? '"limber stock" lists the fixtures';
  return problem(serial, "no run of a fixture with this serial number is in the journal", hint);
};
