import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { NO_BROWSER } from "../../kit/browser.ts";
import { program } from "../../kit/built.ts";
import { workplace } from "../../kit/limber.ts";
import { pairedPhone, phoneBrowser } from "../../kit/phone.ts";
import { SMALL_SPOT } from "../../kit/small-spot.ts";
import { inTerminal } from "../../kit/terminal.ts";

const place = workplace();
afterAll(() => place.remove());

const PROFILE = place.file("small.yaml", SMALL_SPOT);
const fixtures = [1, 2, 3].map(
  (n) =>
    `  - { serial: S-${n}, profile: ${PROFILE}, shelf: top, place: "${n}", universe: 1, address: ${1 + 20 * (n - 1)} }`,
);
const RACK = place.file(
  "rack.yaml",
  `rack: quick\ntitle: Three on one shelf\nlines: [{ universe: 1, output: sim }]\ngroups: { broad: 6 }\nfixtures:\n${fixtures.join("\n")}\n`,
);
const SEQUENCE = place.file(
  "short.yaml",
  "sequence: short\ntitle: Short\nsteps:\n  - { sweep: Pan, deg_per_s: 90, passes: 6 }\n",
);

/** What is answered to a page with such a headline; to any other nothing: it goes by. */
const ANSWERS: readonly (readonly [asked: RegExp, answer: RegExp | "hold"])[] = [
  [/Before anything moves|groups are done/i, "hold"],
  [/Did you watch/, /I watched/i],
  [/what did you see/, /Jerks or hesitates/],
  [/Where it happened/, /continue the run/i],
  [/What next/, /job sheet|continue/i],
];

describe.skipIf(NO_BROWSER)("a rack by phone alone (Chromium)", { timeout: 240_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await phoneBrowser();
  });
  afterAll(() => browser.close());

  test("a fixture is named by touch while it moves, looked at alone after that, and what was seen of it is named", async () => {
    const args = ["rack", "run", RACK, "--sequence", SEQUENCE, "--person", "KM", "--journal", place.journal];
    const run = inTerminal([program(), ...args, "--phone", "127.0.0.1"], { rows: 50, env: { HOME: place.folder } });
    const phone = await pairedPhone(browser, run, { width: 320, scheme: "dark" });
    await phone.until("Before anything moves");
    expect(await phone.words()).toContain("may move");
    await phone.hold();
    await phone.until("Pan");
    await phone.page.waitForFunction('!document.body.innerText.includes("It moves to the start")');
    await phone.touch(/^S-2, top, 2/);
    await phone.touch(/^S-2, top, 2: pressed once/);
    await phone.touch(/^S-2, top, 2: pressed 2 times/);
    for (let headline = await phone.headline(); headline !== "The run is over"; headline = await phone.headline()) {
      const answer = ANSWERS.find(([asked]) => asked.test(headline))?.[1];
      if (answer === "hold") await phone.hold();
      else if (answer) await phone.touch(answer);
      await phone.page.waitForFunction(
        `document.querySelector("#headline").textContent !== ${JSON.stringify(headline)}`,
        { timeout: 60_000, polling: 50 },
      );
    }
    expect(await run.ended).toBe(0);
    expect(run.output().replaceAll(/\s+/g, " ")).toContain("One has something wrong: S-2, top, 2: pan");
    await phone.close();
  });
});
