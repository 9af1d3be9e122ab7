import { readFileSync } from "node:fs";
import type { Browser, BrowserContext, Page } from "puppeteer-core";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";
import { openBrowser } from "./browser.ts";
import type { TerminalRun } from "./terminal.ts";

/** A phone, as far as Chromium can be one: a small screen that is touched, before the page that Limber serves. */
export interface PhoneInHand {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Waits until the headline reads so. */
  until(headline: string | RegExp): Promise<void>;
  headline(): Promise<string>;
  /** Touches a button by its words, once it can be. */
  touch(words: string | RegExp): Promise<void>;
  /** Holds the button that a guarded page wants. */
  hold(): Promise<void>;
  /** All that can be read. */
  words(): Promise<string>;
  close(): Promise<void>;
}

/** The code as it stands in the terminal, read as a camera would: by another library than the one that made it. */
const codeOn = async (screen: string): Promise<string> => {
  const rows = screen.split("\n").filter((row) => /^[\s▀▄█]*[▀▄█][\s▀▄█]*$/.test(row));
  const width = Math.max(...rows.map((row) => row.length)) + 4;
  const side = 4;
  const [columns, lines] = [width * side, (rows.length * 2 + 4) * side];
  const data = new Uint8ClampedArray(columns * lines * 4).fill(255);
  const isDark = (x: number, y: number) => {
    const cell = rows[Math.floor(y / 2)]?.[x] ?? " ";
    return cell === "█" || (cell === "▀" && y % 2 === 0) || (cell === "▄" && y % 2 === 1);
  };
  for (let y = 0; y < lines; y++)
    for (let x = 0; x < columns; x++)
      if (isDark(Math.floor(x / side) - 2, Math.floor(y / side) - 2))
        data.fill(0, (y * columns + x) * 4, (y * columns + x) * 4 + 3);
  return (await readCode({ data, width: columns, height: lines })) ?? "";
};

/** Reads a QR code or a Code 128 in pixels or in the bytes of a picture file. */
export const readCode = async (
  picture:
    | Uint8Array
    | { readonly data: Uint8ClampedArray<ArrayBuffer>; readonly width: number; readonly height: number },
): Promise<string | undefined> => {
  prepareZXingModule({
    overrides: {
      wasmBinary: new Uint8Array(readFileSync("node_modules/zxing-wasm/dist/reader/zxing_reader.wasm")).buffer,
    },
  });
  const source = picture instanceof Uint8Array ? picture : { ...picture, colorSpace: "srgb" as const };
  const [found] = await readBarcodes(source as Parameters<typeof readBarcodes>[0], {
    formats: ["QRCode", "Code128"],
    tryHarder: true,
  });
  return found?.isValid ? found.text : undefined;
};

export interface PhoneKind {
  readonly width: number;
  readonly scheme: "dark" | "light";
}

/** Opens the page by the code in the terminal, compares the number, and says yes there. */
export const pairedPhone = async (browser: Browser, run: TerminalRun, kind: PhoneKind): Promise<PhoneInHand> => {
  const address = await codeOn(await run.until("ENTER without a phone"));
  const phone = await phoneAt(browser, address, kind);
  await run.until("A phone wants to connect");
  const number = /shows? (\d{4})/.exec(run.screen())?.[1] ?? "none";
  await phone.until("Compare the number");
  if (!(await phone.words()).includes(number))
    throw new Error(`the phone does not show ${number}: ${await phone.words()}`);
  run.type("y\r");
  return phone;
};

export const phoneAt = async (
  browser: Browser,
  address: string,
  { width, scheme }: PhoneKind,
): Promise<PhoneInHand> => {
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  await page.setViewport({ width, height: 720, hasTouch: true, isMobile: true, deviceScaleFactor: 2 });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  await page.goto(address, { waitUntil: "load" });
  return handOn(page, context);
};

const SOON = { timeout: 90_000, polling: 50 };

const handOn = (page: Page, context: BrowserContext): PhoneInHand => {
  const headline = async () => String(await page.evaluate('document.querySelector("#headline").textContent'));
  // As it is laid out: what is hidden is not read.
  const words = async () => String(await page.evaluate("document.body.innerText"));
  return {
    page,
    context,
    headline,
    until: async (wanted) => {
      const [source, flags] = typeof wanted === "string" ? [escaped(wanted), ""] : [wanted.source, wanted.flags];
      const says = `new RegExp(${JSON.stringify(source)}, ${JSON.stringify(flags)}).test(document.querySelector("#headline").textContent)`;
      try {
        await page.waitForFunction(says, SOON);
      } catch (error) {
        throw new Error(
          `waited for "${wanted}" on the phone; it says:
${await words()}`,
          { cause: error },
        );
      }
    },
    touch: async (wanted) => {
      const [source, flags] = typeof wanted === "string" ? [escaped(wanted), ""] : [wanted.source, wanted.flags];
      const find = `[...document.querySelectorAll("button")].find((one) => one.offsetParent && one.ariaDisabled !== "true" && new RegExp(${JSON.stringify(source)}, ${JSON.stringify(flags)}).test(one.textContent))`;
      const found = await page.waitForFunction(find, SOON).catch(async (cause: unknown) => {
        throw new Error(`no button "${wanted}" on the phone; it says:\n${await words()}`, { cause });
      });
      const button = found.asElement();
      if (!button) throw new Error(`no button "${wanted}"`);
      // What stands under the foot of the page comes out from under it, as for a keyboard.
      await button.focus();
      await button.tap();
    },
    hold: async () => {
      const button = await page.waitForSelector('#guarded:not([hidden])[aria-disabled="false"]', { timeout: 90_000 });
      const box = await button?.boundingBox();
      if (!box) throw new Error("nothing to hold");
      const touch = await page.touchscreen.touchStart(box.x + box.width / 2, box.y + box.height / 2);
      await page.waitForFunction('!document.querySelector("#guarded").classList.contains("held")', SOON);
      await touch.end();
    },
    words,
    close: () => context.close(),
  };
};

const escaped = (words: string): string => words.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** A browser that takes the bench's own certificate, as somebody does who has compared its fingerprint. */
export const phoneBrowser = (...more: readonly string[]): Promise<Browser> =>
  openBrowser("--ignore-certificate-errors", ...more);
