import { identityKey } from "../../domain/problem/identity.ts";
import { hintFor, problem } from "../../domain/problem/problem.ts";
import { keptPhoto, photoFolder } from "../../io/phone/photos.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import { tellJobSheet } from "../../reports/job-sheet-text.ts";
import type { FixtureLabel, LabelSize } from "../../reports/label.ts";
import { photosIn, type SheetPhoto } from "../../reports/page/job-sheet-page.ts";
import { VERDICT_WORDS, verdictOf } from "../../run/release/release-status.ts";
import { dueNextInWords } from "../../run/release/still-due.ts";
import { deliver, EXIT, type ExitCode, refuse } from "../common/output.ts";
import { offersFor } from "../common/shop.ts";
import { keptRun } from "../fixture/kept-run.ts";
import { knowledgeIn, sheetFrom } from "../fixture/play-run.ts";
import { openHere, withJournal } from "./with-journal.ts";

type SheetForm = "text" | "json" | "csv" | "html" | "label";

interface SheetOptions {
  readonly journal: string;
  readonly as: SheetForm;
  /** A file to write; without it the sheet is printed. */
  readonly out: string | undefined;
}

/** The job sheet of a run in the journal. */
export const showSheet = async (name: string, { journal: file, as, out }: SheetOptions): Promise<ExitCode> => {
  const journal = await openHere(file);
  try {
    const kept = await keptRun(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const { run, material } = kept.value;
    const sheet = await sheetFrom(journal, run, material.profile.value, await knowledgeIn(journal));
    const whole = { ...sheet, dueNext: await dueNext(journal, file, sheet) };
    const taken = as === "html" ? photosIn((await journal.events(run)).map(({ body }) => body)) : [];
    return deliver(await inForm(whole, as, withPictures(taken, photoFolder(file))), out);
  } finally {
    await journal.close();
  }
};

/** What is due next by today's shop file; "" where that file is broken or has no such level. */
const dueNext = async (journal: FileJournal, file: string, { verdict, fixture }: JobSheet): Promise<string> => {
  if (verdict.kind !== "released") return "";
  const offers = await offersFor(journal, fixture.serial, file, "shop");
  const offer = offers.ok ? offers.value.find(({ level }) => level === verdict.level) : undefined;
  return offer ? dueNextInWords(offer) : "";
};

/** Puts the photos from the journal's folder into the page. One that was changed since is left out. */
const withPictures = (photos: readonly Omit<SheetPhoto, "picture">[], folder: string): readonly SheetPhoto[] =>
  photos.map((photo) => {
    const bytes = keptPhoto(folder, photo.file);
    const type = photo.file.endsWith(".png") ? "image/png" : "image/jpeg";
    const picture = bytes && `data:${type};base64,${Buffer.from(bytes).toString("base64")}`;
    return { ...photo, picture };
  });

/** What makes pages and tables is loaded only when one is asked for. */
const inForm = async (sheet: JobSheet, form: SheetForm, photos: readonly SheetPhoto[]): Promise<string> => {
  switch (form) {
    case "text":
      return tellJobSheet(sheet);
    case "json":
      return JSON.stringify(sheet, undefined, 2);
    case "csv":
      return (await import("../../reports/tables.ts")).jobSheetCsv(sheet);
    case "html":
      return (await import("../../reports/page/job-sheet-page.ts")).jobSheetPage(sheet, photos);
    case "label":
      return (await import("../../reports/label.ts")).labelOf(sheet).join("\n");
    default:
      return form satisfies never;
  }
};

interface LabelOptions {
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
    const { labelPage } = await import("../../reports/label.ts");
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
  const offers = level === "" ? undefined : await offersFor(journal, last.serial, file, shop);
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
