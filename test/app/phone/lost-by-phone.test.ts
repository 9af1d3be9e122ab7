import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Air, openAir } from "../../kit/air.ts";
import { NO_BROWSER } from "../../kit/browser.ts";
import { program } from "../../kit/built.ts";
import { workplace } from "../../kit/limber.ts";
import { pairedPhone, phoneBrowser } from "../../kit/phone.ts";
import { inTerminal } from "../../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

const SEQUENCE = place.file(
  "one.yaml",
  `sequence: one
title: One step
steps:
  - { sweep: Pan, deg_per_s: 60, passes: 8, watch: "even travel" }
`,
);

describe.skipIf(NO_BROWSER)("a run with a phone that loses its connection (Chromium)", { timeout: 240_000 }, () => {
  let browser: Browser;
  let air: Air;
  beforeAll(async () => {
    air = await openAir();
    browser = await phoneBrowser(...air.args);
  });
  afterAll(async () => {
    await browser.close();
    await air.close();
  });

  test("what moves stands still as when somebody leaves, and goes on when the person at the phone says so; stop on the phone ends it", async () => {
    const run = inTerminal(
      [
        program(),
        "run",
        ...["--output", "sim", "--set", "none", "--serial", "MH-0231", "--person", "KM", "--sequence", SEQUENCE],
        ...["--journal", place.journal, "--phone", "127.0.0.1"],
      ],
      { rows: 50, env: { HOME: place.folder } },
    );
    const phone = await pairedPhone(browser, run, { width: 412, scheme: "light" });
    await phone.until("Before anything moves");
    expect(await phone.words()).toContain("Hold: all of this is confirmed, MH-0231 may move");
    expect(await phone.words()).toContain("Stop is not an emergency stop: the mains isolator is.");
    await phone.hold();
    await phone.until(/^Pan$/);

    air.cut();
    await phone.page.waitForFunction('document.querySelector("#link").textContent.includes("No connection")');
    await run.until("The phone cannot be reached. What moved stands still until somebody goes on.");
    air.mend();
    await phone.page.waitForFunction('document.querySelector("#link").textContent === ""');
    await phone.until(/^Pause$/);
    expect(await phone.words()).toContain("Hold: I am here, continue with MH-0231");
    await phone.hold();
    // Somebody was away: the area is confirmed anew.
    await phone.until("Before anything moves");
    await phone.hold();
    await phone.until(/^Pan$/);
    await phone.touch("Stop it all");
    await phone.until("The run is over");
    await run.ended;
    expect(place.limber("runs", "--json", "--journal", place.journal).out).toContain('"stopped"');
    await phone.close();
  });
});
