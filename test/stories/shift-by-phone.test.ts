import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "puppeteer-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { NO_BROWSER, openBrowser } from "../kit/browser.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { type PhoneInHand, pairedPhone, phoneBrowser } from "../kit/phone.ts";
import { SMALL_SPOT } from "../kit/small-spot.ts";
import { inTerminal } from "../kit/terminal.ts";

/** Real seconds under a real pseudo-terminal and in a real browser; every fixture is simulated. */
const SLOW = 600_000;
const place = workplace();
afterAll(() => place.remove());

const PROFILE = place.file("small.yaml", SMALL_SPOT);
const SEQUENCE = place.file(
  "short.yaml",
  "sequence: short\ntitle: Short\nsteps:\n  - { sweep: Pan, deg_per_s: 120, passes: 4 }\n",
);
const SHOP = place.file(
  "own.yaml",
  "shop: own\ntitle: Own\nlevels:\n  - { level: short, title: Short, needs: [{ sequence: short, every: return }] }\n",
);
const SERIALS = ["SP-201", "SP-202", "SP-203"] as const;

interface RunRow {
  readonly run: string;
  readonly serial: string;
}

/** A picture of a fixture's label as Limber prints it, four times as large as paper. */
const labelOf = async (browser: Browser, serial: string): Promise<string> => {
  const page = await browser.newPage();
  const html = join(place.folder, `${serial}.html`);
  expect(place.limber("label", serial, "--out", html, "--journal", place.journal, "--shop", SHOP).code).toBe(0);
  await page.setViewport({ width: 320, height: 240, deviceScaleFactor: 2 });
  await page.goto(`file://${html}`);
  const file = join(place.folder, `${serial}.jpg`);
  writeFileSync(file, await page.screenshot({ type: "jpeg", quality: 90 }));
  await page.close();
  return file;
};

const chosen = async ({ page }: PhoneInHand, button: string, file: string): Promise<void> => {
  const [chooser] = await Promise.all([page.waitForFileChooser(), page.tap(button)]);
  await chooser.accept([file]);
};

/** From the safety page to the signature: nothing was wrong. */
const clean = async (phone: PhoneInHand, serial: string): Promise<void> => {
  await phone.until("Before anything moves");
  expect(await phone.words()).toContain(`Hold: all of this is confirmed, ${serial} may move`);
  await phone.hold();
  await phone.until(/^Pan$/);
  await phone.until("Did you watch these?");
  await phone.touch(/I watched/i);
  await phone.until(`${serial}: nothing wrong`);
  await phone.touch("Release it, signed KM");
};

/** A press while it moves, a photo of what was seen, its symptom; then to the end, with nothing else tried. */
const faulty = async (phone: PhoneInHand, picture: string): Promise<void> => {
  await phone.until("Before anything moves");
  await phone.hold();
  await phone.until(/^Pan$/);
  await phone.page.waitForFunction('!document.body.innerText.includes("It moves to the start")');
  await phone.touch("There: something is wrong");
  await phone.until("Pan: what did you see?");
  await chosen(phone, "#photo-photo", picture);
  await phone.page.waitForFunction('document.body.innerText.includes("The photo is saved.")');
  await phone.touch("Jerks or hesitates");
  await phone.until(/Where it happened|What next/);
  if (/Where it happened/.test(await phone.headline())) await phone.touch(/continue the run/i);
  await phone.until("What next");
  await phone.touch(/the job sheet/i);
  await phone.until("Set SP-203 aside?");
};

describe.skipIf(NO_BROWSER)("a shift of three heads by phone alone (Chromium)", () => {
  const labels = new Map<string, string>();
  let browser: Browser;
  beforeAll(async () => {
    for (const serial of SERIALS) {
      const known = ["--profile", PROFILE, "--sequence", SEQUENCE, "--serial", serial, "--watcher", "1", "--fast"];
      expect(place.limber("run", ...known, "--set", "none", "--journal", place.journal).code, serial).toBe(0);
    }
    const printing = await openBrowser();
    for (const serial of SERIALS) labels.set(serial, await labelOf(printing, serial));
    await printing.close();
    // Chromium plays the picture as its camera: one frame of Motion JPEG, over and over.
    const camera = join(place.folder, "camera.mjpeg");
    writeFileSync(camera, readFileSync(labels.get(SERIALS[0]) ?? ""));
    browser = await phoneBrowser("--use-fake-device-for-media-stream", `--use-file-for-fake-video-capture=${camera}`);
  }, SLOW);
  afterAll(() => browser.close());

  test(
    "the first is scanned by camera, the others by a photo of their label; a fault is named with a photo, which the sheet shows",
    async () => {
      const args = ["shift", "--person", "KM", "--output", "sim", "--sequence", SEQUENCE];
      const kept = ["--shop", SHOP, "--journal", place.journal, "--phone", "127.0.0.1"];
      const run = inTerminal([program(), ...args, ...kept], { rows: 50, env: { HOME: place.folder } });
      const phone = await pairedPhone(browser, run, { width: 320, scheme: "dark" });
      const origin = new URL(phone.page.url()).origin;

      await phone.until("Next fixture");
      await phone.context.overridePermissions(origin, ["camera"]);
      await phone.touch("Scan the label");
      await clean(phone, SERIALS[0]);

      // Without the right to use the camera a photo does.
      await phone.context.clearPermissionOverrides();
      for (const serial of SERIALS.slice(1)) {
        await phone.until("Next fixture");
        await phone.touch("Scan the label");
        await phone.page.waitForFunction(
          'document.querySelector("#look-says").textContent.includes("The camera cannot be used here.")',
        );
        await chosen(phone, "#look-photo", labels.get(serial) ?? "");
        if (serial === SERIALS[1]) await clean(phone, serial);
      }

      await faulty(phone, labels.get(SERIALS[2]) ?? "");
      await phone.touch(/^No$/);
      await phone.until("Next fixture");
      await phone.touch("End of the shift");
      expect(await run.ended).toBe(0);
      await phone.close();

      const board = JSON.parse(place.limber("board", "--simulated", "--json", "--journal", place.journal).out);
      expect(board.counts).toMatchObject({ released: 2, "needs-work": 1 });
      const runs = JSON.parse(place.limber("runs", "--json", "--journal", place.journal).out) as readonly RunRow[];
      const last = runs.findLast(({ serial }) => serial === SERIALS[2])?.run ?? "";
      const sheet = place.limber("sheet", last, "--as", "html", "--journal", place.journal).out;
      const [photo = ""] = readdirSync(join(place.folder, "photos"));
      expect(photo).toMatch(/^[0-9a-f]{64}\.jpg$/);
      expect(sheet).toContain("Seen: pan, full sweep");
      const bytes = readFileSync(join(place.folder, "photos", photo)).toString("base64");
      expect(sheet).toContain(`data:image/jpeg;base64,${bytes}`);
    },
    SLOW,
  );
});
