import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { NO_BROWSER } from "../../kit/browser.ts";
import { program } from "../../kit/built.ts";
import { type PhoneInHand, pairedPhone, phoneBrowser } from "../../kit/phone.ts";
import { inTerminal } from "../../kit/terminal.ts";

const folder = mkdtempSync(join(tmpdir(), "limber-phone-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const SEQUENCE = join(folder, "two.yaml");
writeFileSync(
  SEQUENCE,
  `sequence: two
title: Two steps
steps:
  - { sweep: Pan, speed: full, passes: 2, watch: "even travel" }
  - { sweep: Tilt, deg_per_s: 60, passes: 6, watch: "even travel" }
`,
);

/** How far the marks of the only strip stand: where it is told to be, and where it is. */
const marks = async ({ page }: PhoneInHand): Promise<{ readonly commanded: number; readonly actual: number }> => {
  const shares = (await page.evaluate(
    '[".commanded", ".actual"].map((mark) => Number(document.querySelector(mark)?.style.getPropertyValue("--at")))',
  )) as readonly number[];
  return { commanded: shares[0] ?? Number.NaN, actual: shares[1] ?? Number.NaN };
};

describe.skipIf(NO_BROWSER)("practice by the phone alone (Chromium)", { timeout: 240_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await phoneBrowser();
  });
  afterAll(() => browser.close());

  test("what is hidden is seen, pressed for and named on the phone; the terminal shows the same and has no key of it", async () => {
    const run = inTerminal(
      [
        program(),
        "practice",
        "--phone",
        "127.0.0.1",
        "--person",
        "KM",
        "--rounds",
        "1",
        "--sequence",
        SEQUENCE,
        "--set",
        "tilt-winding-open",
      ],
      { rows: 50, env: { HOME: folder } },
    );
    const phone = await pairedPhone(browser, run, { width: 360, scheme: "dark" });
    await phone.until("Before anything moves");
    await run.until("BEFORE ANYTHING MOVES");
    expect(await phone.words()).toContain("Hold: all of this is confirmed, practice may move");
    await phone.hold();
    await phone.until("Slow movement first");

    await phone.until(/^Pan$/);
    await phone.until("Pan: what did you see?");
    await run.until("PAN: WHAT DID YOU SEE?");
    await phone.touch("Nothing was wrong");

    await phone.until(/^Tilt$/);
    await phone.page.waitForFunction(
      'Math.abs(Number(document.querySelector(".commanded").style.getPropertyValue("--at")) - Number(document.querySelector(".actual").style.getPropertyValue("--at"))) > 0.3',
      { timeout: 90_000, polling: 50 },
    );
    expect((await marks(phone)).actual).not.toBeNaN();
    await phone.page.waitForFunction('!document.body.innerText.includes("It moves to the start")', { timeout: 90_000 });
    await phone.touch("There: something is wrong");
    await phone.page.waitForFunction('document.body.innerText.includes("Pressed once in this step")', {
      timeout: 90_000,
    });

    await phone.until("Tilt: what did you see?");
    await phone.touch(/Buzzes or trembles and does not travel/);
    for (;;) {
      const headline = await phone.headline();
      if (/The run is over/.test(headline)) break;
      if (/Where it happened/.test(headline)) await phone.touch(/continue the run/i);
      if (/What next/.test(headline)) await phone.touch(/the job sheet/i);
      await phone.page.waitForFunction(
        `document.querySelector("#headline").textContent !== ${JSON.stringify(headline)}`,
        { timeout: 60_000, polling: 50 },
      );
    }
    expect(await run.ended).toBe(0);
    expect(run.output()).toContain("tilt: full sweep");
    expect(run.output()).toMatch(/caught/i);
    await phone.close();
  });
});
