import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "puppeteer-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { systemNow } from "../../../src/io/phone/thread.ts";
import type { PhonePage } from "../../../src/run/phone/message.ts";
import { type Air, openAir } from "../../kit/air.ts";
import { leastContrast, NO_BROWSER } from "../../kit/browser.ts";
import { type PhoneInHand, phoneAt, phoneBrowser } from "../../kit/phone.ts";
import { type ServedPhone, servedPhone } from "../../kit/served-phone.ts";
import { jpegWith } from "./pictures.ts";

/** Nothing on it yet; a test says what is. Another page has another number. */
const EMPTY: PhonePage = {
  drawn: 0,
  moving: "stands",
  where: "SIMULATED MH-0231, small spot",
  step: "step 2 of 9",
  headline: "Headline",
  lines: [],
  strips: [],
  press: "",
  again: "",
  stop: "",
  guarded: "",
  answers: [],
  fields: [],
};

const MOVES: PhonePage = {
  ...EMPTY,
  moving: "moves",
  headline: "Pan",
  lines: [
    { text: "Watch for: even travel.", look: "strong" },
    { text: "Pan from end to end.", look: "plain" },
    { text: "Next: tilt, full sweep.", look: "faint" },
    { text: "The line was late: this step is played again.", look: "alert" },
  ],
  strips: [{ label: "Pan", commanded: 0.4, actual: 0.3, words: "commanded 216 deg, actual 162 deg" }],
  press: "There: something is wrong",
  again: "Once more",
  stop: "Stop it all",
};

const ASKS: PhonePage = {
  ...EMPTY,
  headline: "Pan: what did you see?",
  answers: [
    "Does not move",
    "Moves late or overshoots, and settles only after some time has passed",
    ...Array.from({ length: 9 }, (_, n) => `Answer ${n + 3}`),
  ].map((words) => ({ words, look: words === "Answer 3" ? "chosen" : "plain" }) as const),
  fields: [{ what: "note", words: "A note", by: "letters", text: "" }],
  stop: "Stop it all",
};

const GUARDED: PhonePage = {
  ...EMPTY,
  headline: "Before anything moves",
  lines: [{ text: "Nobody stands in the swing.", look: "plain" }],
  guarded: "Hold: all of this is confirmed, MH-0231 may move",
  stop: "Stop it all",
};

const WRITES: PhonePage = {
  ...EMPTY,
  headline: "Next fixture",
  fields: [
    { what: "line", words: "Serial number", by: "scan", text: "" },
    { what: "value", words: "Value in ohm", by: "digits", text: "0.08" },
    { what: "photo", words: "Take a photo", by: "photo", text: "" },
  ],
};

const PAGES = [
  { name: "while it moves", page: MOVES },
  { name: "at a question", page: ASKS },
  { name: "before anything moves", page: GUARDED },
  { name: "where something is written, scanned or photographed", page: WRITES },
];

const SIZES = [320, 360, 412].flatMap((width) => (["dark", "light"] as const).map((scheme) => ({ width, scheme })));

const folder = mkdtempSync(join(tmpdir(), "limber-page-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.skipIf(NO_BROWSER)("the page on a phone (Chromium)", { timeout: 120_000 }, () => {
  let browser: Browser;
  let air: Air;
  let served: ServedPhone;
  let phone: PhoneInHand;
  let count = 0;
  beforeAll(async () => {
    air = await openAir();
    browser = await phoneBrowser(...air.args);
  });
  afterAll(async () => {
    await browser.close();
    await air.close();
  });
  beforeEach(async () => {
    served = await servedPhone();
  });
  afterEach(async () => {
    air.mend();
    await phone.close();
    await served.close();
  });

  /** Paired, and let in. */
  const openPhone = async (kind = { width: 360, scheme: "dark" } as (typeof SIZES)[number]): Promise<PhoneInHand> => {
    const opened = await phoneAt(browser, served.address(), kind);
    await served.letIn();
    return opened;
  };
  const shows = async (page: PhonePage): Promise<void> => {
    served.show({ ...page, drawn: page.drawn || ++count });
    await phone.until(page.headline);
    // What is asleep while nobody can have read it is awake.
    await phone.page.waitForFunction('!document.querySelector("[aria-disabled=true]:not([hidden])")', { polling: 20 });
  };

  describe.each(SIZES)("at $width points, $scheme", (kind) => {
    test("every page can be read, reached and hit with a thumb", async () => {
      phone = await openPhone(kind);
      for (const { name, page } of PAGES) {
        await shows(page);
        expect(await measured(phone.page), name).toEqual(FITS);
        expect((await leastContrast(phone.page)).ratio, name).toBeGreaterThanOrEqual(4.5);
        expect(await namesOf(phone.page), name).not.toContain("");
        expect(await reachedByTab(phone.page), name).toEqual(await controlsOf(phone.page));
      }
      await phone.touch("Scan the label");
      await phone.page.waitForSelector("#look[open]");
      expect(await measured(phone.page), "looking for a label").toEqual(FITS);
      expect((await leastContrast(phone.page)).ratio, "looking for a label").toBeGreaterThanOrEqual(4.5);
    });
  });

  test("the three buttons are the largest things on it", async () => {
    phone = await openPhone({ width: 320, scheme: "dark" });
    await shows(MOVES);
    const areas = (await phone.page.evaluate(
      '["#press", "#again", "#stop"].map((id) => document.querySelector(id).getBoundingClientRect()).map(({ width, height }) => width * height)',
    )) as readonly number[];
    const [press = 0, again = 0, stop = 0] = areas;
    expect(press).toBeGreaterThan(320 * 720 * 0.2);
    expect(Math.min(again, stop)).toBeGreaterThan(140 * 79);
  });

  test("an answer that was touched is the answer", async () => {
    phone = await openPhone();
    await shows({ ...ASKS, drawn: 6 });
    await phone.touch(/^Answer 7$/);
    const { said } = await served.next("said", (event) => event.said.kind === "answer");
    expect(said).toMatchObject({ kind: "answer", drawn: 6, choice: 6 });
  });

  test("what starts movement wants to be held: a tap is not enough, and says nothing", async () => {
    phone = await openPhone();
    await shows({ ...GUARDED, drawn: 7 });
    await phone.touch("Hold: all of this is confirmed");
    await phone.hold();
    const { said } = await served.next("said", (event) => event.said.kind === "guarded");
    expect(said).toMatchObject({ kind: "guarded", drawn: 7 });
    expect(served.events.filter((event) => event.kind === "said" && event.said.kind === "guarded")).toEqual([]);
  });

  test("two seconds without a sign of life, by its own clock, and it says that there is no connection", async () => {
    phone = await openPhone();
    await shows(MOVES);
    await phone.page.evaluate("window.stopped = performance.now(); performance.now = () => window.stopped");
    air.cut();
    await phone.page.evaluate("window.stopped += 1999");
    await phone.page.waitForFunction('document.querySelector("#link").textContent.includes("No connection")');
    expect(await phone.words()).toContain("No connection to the bench: Stop does not reach it.");
    air.mend();
    await phone.page.waitForFunction('document.querySelector("#link").textContent === ""');
  });

  test("what was pressed without a connection is kept with its time, and sent when it is back", async () => {
    phone = await openPhone();
    await shows({ ...MOVES, drawn: 5 });
    // Told once the clock of the phone is known.
    await phone.touch("There: something is wrong");
    await served.next("said", (event) => event.said.kind === "press");
    air.cut();
    const before = systemNow();
    await phone.touch("There: something is wrong");
    const after = systemNow();
    await phone.page.waitForFunction(
      'document.querySelector("#link").textContent.includes("1 saved with their times")',
    );
    await served.next("lost");
    air.mend();
    const { at, give, said } = await served.next("said", (event) => event.said.kind === "press");
    expect(said).toMatchObject({ drawn: 5 });
    expect(at).toBeGreaterThan(before - give);
    expect(at).toBeLessThan(after + give);
    await phone.page.waitForFunction('document.querySelector("#link").textContent === ""');
  });

  test("a second phone sees the same and can touch nothing", async () => {
    phone = await openPhone();
    const second = await openPhone();
    served.show({ ...MOVES, drawn: 8 });
    await second.until("Pan");
    expect(await second.words()).toContain("watching only");
    expect(await second.page.$$eval("button", (all) => all.filter((one) => one.checkVisibility()).length)).toBe(0);
    served.show({ ...ASKS, drawn: 9 });
    await second.until("Pan: what did you see?");
    expect(await second.words()).toContain("Does not move");
    expect(await second.page.$$eval("button, input", (all) => all.filter((one) => one.checkVisibility()).length)).toBe(
      0,
    );
    await second.close();
  });

  test("text from outside is text: in a serial number, a headline, a line, an answer, a field", async () => {
    phone = await openPhone();
    const hostile = `<img src=x onerror="document.title='owned'"><script>document.title='owned'</script>`;
    const answers = [{ words: hostile, look: "plain" }] as const;
    const fields = [{ what: "line", words: hostile, by: "scan", text: hostile }] as const;
    await shows({
      ...EMPTY,
      where: hostile,
      headline: hostile,
      lines: [{ text: hostile, look: "plain" }],
      strips: [{ label: hostile, commanded: 0.5, actual: 0.5, words: hostile }],
      answers,
      fields,
    });
    expect((await phone.words()).split("<script>document.title='owned'</script>").length - 1).toBe(7);
    expect(await phone.page.$$eval("img, #answers script, #lines script", (all) => all.length)).toBe(0);
    expect(await phone.page.title()).toBe("Limber at the fixture");
  });

  test("a photo is made small, and arrives without anything but the picture", async () => {
    phone = await openPhone();
    await shows({ ...WRITES, drawn: 11 });
    const file = join(folder, "GPS.jpg");
    writeFileSync(file, jpegWith("GPS 52.5 13.4"));
    const [chooser] = await Promise.all([phone.page.waitForFileChooser(), phone.touch("Take a photo")]);
    await chooser.accept([file]);
    expect(await served.next("photo")).toMatchObject({ drawn: 11, file: expect.stringMatching(/^[0-9a-f]{64}\.jpg$/) });
    await phone.page.waitForFunction('document.body.innerText.includes("The photo is saved.")');
  });
});

/** Controls that are too small for a thumb or a glove (48 points), covered, unlike their ground, or on a page that slides sideways. */
const FITS = { small: [], sideways: 0, faint: [] };
const measured = (page: Page): Promise<unknown> => page.evaluate(MEASURE);
const MEASURE = `(() => {
  const inside = document.querySelector("dialog[open]") ?? document.body;
  const controls = [...inside.querySelectorAll("button, input")].filter((one) => one.checkVisibility());
  const numbers = (colour) => (colour.match(/[\\d.]+/g) ?? []).map(Number);
  const luminance = (colour) => {
    const [x, y, z] = numbers(colour).map((part) => part / 255 <= 0.03928 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const ratio = (a, b) => (Math.max(luminance(a), luminance(b)) + 0.05) / (Math.min(luminance(a), luminance(b)) + 0.05);
  const ground = getComputedStyle(document.body).backgroundColor;
  const told = (one) => one.textContent || one.id;
  return {
    small: controls.filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < 48).map(told),
    sideways: Math.max(0, document.documentElement.scrollWidth - innerWidth),
    // A control's edge or its own colour stands out 3 to 1 (WCAG 2.1, 1.4.11).
    faint: controls.filter((one) => Math.max(ratio(getComputedStyle(one).borderTopColor, ground), ratio(getComputedStyle(one).backgroundColor, ground)) < 3).map(told),
  };
})()`;

/** What a screen reader calls everything that can be touched. */
const namesOf = async (page: Page): Promise<readonly string[]> => {
  const root = await page.accessibility.snapshot();
  const names = (node: typeof root): readonly string[] =>
    node
      ? [
          ...(["button", "textbox", "spinbutton"].includes(node.role) ? [node.name?.trim() ?? ""] : []),
          ...(node.children ?? []).flatMap(names),
        ]
      : [];
  return names(root);
};

const controlsOf = async (page: Page): Promise<readonly string[]> =>
  (await page.evaluate(
    '[...document.querySelectorAll("button, input")].filter((one) => one.checkVisibility()).map((one) => one.id || one.textContent)',
  )) as readonly string[];

/** What the TAB key reaches in one round, each seen to have a frame around it and nothing in front of it. */
const reachedByTab = async (page: Page): Promise<readonly string[]> => {
  const reached: string[] = [];
  await page.evaluate("document.activeElement?.blur()");
  for (let n = 0; n < 40; n++) {
    await page.keyboard.press("Tab");
    const now = (await page.evaluate(FOCUSED)) as string;
    if (now === "") break;
    reached.push(now);
  }
  return reached;
};
const FOCUSED = `(() => {
  const one = document.activeElement;
  if (!one || one === document.body) return "";
  const name = one.id || one.textContent;
  const { left, top, width, height } = one.getBoundingClientRect();
  const front = document.elementFromPoint(left + width / 2, top + height / 2);
  if (parseFloat(getComputedStyle(one).outlineWidth) < 2) return "no frame: " + name;
  return one === front || one.contains(front) ? name : "covered: " + name;
})()`;
