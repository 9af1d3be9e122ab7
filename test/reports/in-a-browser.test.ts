import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { safeText } from "../../src/domain/problem/shown-text.ts";
import { chapterOf, guidePage } from "../../src/reports/guide.ts";
import { labelPage } from "../../src/reports/label.ts";
import { historyPage } from "../../src/reports/page/history-page.ts";
import { jobSheetPage } from "../../src/reports/page/job-sheet-page.ts";
import { rackPage, readingsPage } from "../../src/reports/page/rack-page.ts";
import { overviewPage, stockPage } from "../../src/reports/page/stock-page.ts";
import {
  leastContrast,
  NO_BROWSER,
  openBrowser,
  outOfPlace,
  type Shown,
  sheetsOfPaper,
  showFile,
} from "../kit/browser.ts";
import { HOSTILE_TEXTS } from "../kit/hostile.ts";
import { hostileRack, usualRack, usualReadings } from "./racks.ts";
import { comparedSheet, hostileSheet, usualSheet } from "./sheets.ts";
import { hostileHistory, hostileStock, usualHistory, usualStock } from "./stocks.ts";

const folder = mkdtempSync(join(tmpdir(), "limber-pages-"));
const written = (name: string, html: string): string => {
  const file = join(folder, name);
  writeFileSync(file, html);
  return file;
};

const chapters = () =>
  readdirSync(join("docs", "guide")).map((name) =>
    chapterOf(name.replace(".md", ""), readFileSync(join("docs", "guide", name), "utf8")),
  );

const TODAY = "2026-12-01T08:00:00.000Z";
const PAGES = [
  { name: "a usual job sheet", file: written("usual.html", jobSheetPage(usualSheet())) },
  { name: "a job sheet full of hostile text", file: written("hostile.html", jobSheetPage(hostileSheet())) },
  { name: "a stock of 48 fixtures", file: written("stock.html", stockPage(usualStock(), TODAY)) },
  { name: "a stock full of hostile names", file: written("hostile-stock.html", stockPage(hostileStock(), TODAY)) },
  { name: "an overview", file: written("overview.html", overviewPage(usualStock(), TODAY)) },
  {
    name: "an overview of names that try to be more",
    file: written("hostile-overview.html", overviewPage(hostileStock(), TODAY)),
  },
  { name: "the history of a fixture", file: written("history.html", historyPage(usualHistory())) },
  { name: "a history full of hostile text", file: written("hostile-history.html", historyPage(hostileHistory())) },
  { name: "before and after", file: written("compared.html", jobSheetPage(comparedSheet())) },
  { name: "a rack of 24", file: written("rack.html", rackPage(usualRack())) },
  { name: "a rack full of hostile names", file: written("hostile-rack.html", rackPage(hostileRack())) },
  { name: "the guide", file: written("guide.html", guidePage(chapters())) },
  { name: "readings of a rack", file: written("readings.html", readingsPage("Back from hire", usualReadings())) },
];

/** Pages on which a name from right to left stands beside figures and words. */
const DIRECTED = ["كشاف 12", "זרקור-7"].flatMap((of, n) =>
  [
    { name: "a job sheet", html: jobSheetPage(hostileSheet([of, of, of])) },
    { name: "a stock", html: stockPage(hostileStock([of]), TODAY) },
    { name: "an overview", html: overviewPage(hostileStock([of]), TODAY) },
    { name: "a history", html: historyPage(hostileHistory([of, of])) },
    { name: "a rack", html: rackPage(hostileRack([of])) },
    {
      name: "a label",
      html: labelPage([{ serial: of, verdict: "released", level: of, due: "2026-12-24", simulated: true }], "89x36"),
    },
  ].map(({ name, html }) => ({ name, of, file: written(`${name.replaceAll(" ", "-")}-${n}.html`, html) })),
);

describe.skipIf(NO_BROWSER)("in a browser (Chromium)", { timeout: 120_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true });
  });

  describe.each(PAGES)("$name", ({ file }) => {
    let shown: Shown;
    beforeAll(async () => {
      shown = await showFile(browser, file, 800);
    });
    afterAll(async () => {
      await shown.page.close();
    });

    test("asks for nothing outside the file and opens no dialog", () => {
      expect(shown.asked).toEqual([]);
    });

    test.each([360, 1280])("does not overflow a window %s pixels wide", async (width) => {
      await shown.page.setViewport({ width, height: 800 });
      expect(await shown.page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    });

    test.each(["light", "dark"])("has text of contrast 4.5 or more in %s (WCAG 2.1, 1.4.3)", async (scheme) => {
      await shown.page.setViewport({ width: 800, height: 800 });
      await shown.page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
      const { ratio, text } = await leastContrast(shown.page);
      expect(ratio, text).toBeGreaterThanOrEqual(4.5);
    });

    test("is told in order by its headings, and every table names its columns and rows", async () => {
      const { page } = shown;
      expect(await page.evaluate("document.documentElement.lang")).toBe("en");
      const levels = (await page.evaluate(
        "[...document.querySelectorAll('h1,h2,h3')].map((heading) => Number(heading.tagName[1]))",
      )) as number[];
      expect(levels[0]).toBe(1);
      expect(levels.filter((level) => level === 1)).toHaveLength(1);
      expect(levels.slice(1).every((level, index) => level <= levels[index]! + 1)).toBe(true);
      expect(
        await page.evaluate(
          "[...document.querySelectorAll('table')].filter((table) => !table.caption || [...table.rows].some((row) => !row.querySelector('th[scope]'))).length",
        ),
      ).toBe(0);
      expect(
        await page.evaluate("[...document.querySelectorAll('svg')].every((one) => one.getAttribute('aria-label'))"),
      ).toBe(true);
    });
  });

  test.each(DIRECTED)(
    "$name: the words beside a name from right to left stand in their order, and none of it between them ($of)",
    async ({ file, of }) => {
      const { page } = await showFile(browser, file, 800);
      expect(await outOfPlace(page, of)).toEqual([]);
      await page.close();
    },
  );

  test("the overview of a shop stands on one screen of 1280 by 800, nothing to be scrolled for", async () => {
    const { page } = await showFile(browser, written("one-screen.html", overviewPage(usualStock(), TODAY)), 1280);
    expect(await page.evaluate("document.documentElement.scrollHeight")).toBeLessThanOrEqual(800);
    await page.close();
  });

  test("a usual job sheet fits one sheet of A4", async () => {
    const { page } = await showFile(browser, PAGES[0]!.file, 800);
    expect(await sheetsOfPaper(page)).toBe(1);
    await page.close();
  });

  test.each(PAGES.filter(({ name }) => name.includes("hostile")))(
    "in $name all is read as it was written, and becomes no element of the page",
    async ({ file }) => {
      const { page } = await showFile(browser, file, 800);
      const text = String(await page.evaluate("document.body.textContent"));
      for (const hostile of HOSTILE_TEXTS) expect(text).toContain(safeText(hostile));
      expect(
        await page.evaluate("document.querySelectorAll('script, img, iframe, a, form, base, link, object').length"),
      ).toBe(0);
      expect(await page.evaluate("globalThis.owned === undefined")).toBe(true);
      await page.close();
    },
  );
});
