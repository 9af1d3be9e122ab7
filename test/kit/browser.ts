import { existsSync, readFileSync } from "node:fs";
import { type Browser, launch, type Page } from "puppeteer-core";

/** Debian's Chromium, to read pages as people's browsers do. Tests that need it are skipped where it is absent, and say so. */
const CHROMIUM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) =>
  existsSync(path),
);
export const NO_BROWSER = CHROMIUM === undefined;
if (NO_BROWSER)
  process.stderr.write("Skipped: pages in a browser; there is no Chromium here (apt-get install chromium)\n");

export const openBrowser = (...more: readonly string[]): Promise<Browser> =>
  launch({
    executablePath: CHROMIUM ?? "",
    headless: true,
    // As root, as in a container, its own sandbox cannot be set up; the pages are ours.
    args: ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", ...more],
  });

export interface Shown {
  readonly page: Page;
  /** Every address that was asked for, the file itself not counted. */
  readonly asked: readonly string[];
}

/** A file of its own in a window so many pixels wide. */
export const showFile = async (browser: Browser, file: string, width: number): Promise<Shown> => {
  const page = await browser.newPage();
  const asked: string[] = [];
  const own = `file://${file}`;
  page.on("request", (request) => {
    if (request.url() !== own) asked.push(request.url());
  });
  page.on("dialog", (dialog) => asked.push(`dialog ${dialog.message()}`));
  await page.setViewport({ width, height: 800 });
  await page.goto(own, { waitUntil: "load" });
  return { page, asked };
};

/** How many sheets of A4 it prints on. */
export const sheetsOfPaper = async (page: Page): Promise<number> => {
  const pdf = Buffer.from(await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  return pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
};

/** The least contrast of any text on the page with what is behind it, and that text. */
export const leastContrast = async (page: Page): Promise<{ readonly ratio: number; readonly text: string }> =>
  (await page.evaluate(LEAST_CONTRAST)) as { readonly ratio: number; readonly text: string };

/** What does not stand in the order in which it is read, on lines with that name; empty where all does. */
export const outOfPlace = async (page: Page, name: string): Promise<readonly string[]> =>
  (await page.evaluate(`(${OUT_OF_PLACE.replace(/;\s*$/, "")})(${JSON.stringify(name)})`)) as readonly string[];

/** These run inside the page, so each is a text of its own that sees the browser's types and not ours. */
const OUT_OF_PLACE = readFileSync(new URL("out-of-place.js", import.meta.url), "utf8");
const LEAST_CONTRAST = readFileSync(new URL("least-contrast.js", import.meta.url), "utf8");
