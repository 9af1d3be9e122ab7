import { keptPhoto, photoFolder } from "../../io/phone/photos.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import { tellJobSheet } from "../../reports/job-sheet-text.ts";
import { photosIn, type SheetPhoto } from "../../reports/photos.ts";
import { dueNextInWords } from "../../run/release/offers.ts";
import { deliver } from "../common/deliver.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { shopFor } from "../common/shop.ts";
import { keptRun } from "../fixture/kept-run.ts";
import { knowledgeIn, sheetFrom } from "../fixture/play-run.ts";
import { offersFor } from "./levels.ts";
import { openHere } from "./with-journal.ts";

/** The forms a job sheet comes in. */
const SHEET_FORMS = ["text", "json", "csv", "html", "label"] as const;
type SheetForm = (typeof SHEET_FORMS)[number];

export interface SheetOptions {
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

/** By the shop file as it is today; where that is broken or has no such level nothing is said of it. */
const dueNext = async (journal: FileJournal, file: string, { verdict, fixture }: JobSheet): Promise<string> => {
  if (verdict.kind !== "released") return "";
  const offers = await offersFor(journal, fixture.serial, shopFor(file, "shop"));
  const offer = offers.ok ? offers.value.find(({ level }) => level === verdict.level) : undefined;
  return offer ? dueNextInWords(offer) : "";
};

/** As they lie in the journal's folder, within the page. One that was changed since is as good as none. */
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
      return (await import("../../reports/job-sheet-csv.ts")).jobSheetCsv(sheet);
    case "html":
      return (await import("../../reports/page/job-sheet-page.ts")).jobSheetPage(sheet, photos);
    case "label":
      return (await import("../../reports/label.ts")).labelOf(sheet).join("\n");
    default:
      return form satisfies never;
  }
};
