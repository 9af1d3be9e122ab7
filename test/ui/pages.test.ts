import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Spectacle } from "../../src/run/ports.ts";
import { diagnosed } from "../kit/diagnosed.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { AGREE, type sightOf, Typist } from "./sights.ts";

/** Whole screens of a terminal of 80 columns and 24 rows, compared with the files beside; `vitest -u` writes them anew, a person reads them. */
const STEPS = [
  "power-up: fixture",
  "{ sweep: Pan, seconds: 10, passes: 2 }",
  "{ sweep: [ColorSub_C, ColorSub_M, ColorSub_Y], seconds: 3, passes: 2 }",
  "{ step-through: Color1, dwell_s: 1 }",
  "{ rotate: Gobo1Pos, slow_s: 10, fast_s: 4 }",
  "{ snap: [Pan, Tilt], deg: 15, times: 3 }",
  "sweep: Blade1A",
];
const SHOWS: Spectacle = {
  parts: [
    { function: "Pan", share: 0.35, words: "-81 degrees" },
    { function: "Tilt", share: 0.5, words: "0 degrees" },
    { function: "Color1", share: 0.2, words: "red" },
  ],
  sounds: ["scrape", "hum"],
  light: "dark",
  display: "address 1",
};
type Changes = Parameters<typeof sightOf>[1];
const far: Changes = { letters: "several rows high" };
const simulated: Changes = { seen: { spectacle: SHOWS, moved: new Map([["Tilt", 0]]) } };

const attended = () => new Typist(new Driven(jobOf(STEPS)).begin());
const poweredUp = () => {
  const at = attended().press(AGREE);
  at.run.playOut().send({ kind: "stored", count: 20 });
  return at;
};
/** Past the power-up and the slow start, at the first sweep. */
const sweeping = () => {
  const at = poweredUp().press(AGREE);
  at.run.send({ kind: "stored", count: 40 }).playOut();
  return at;
};
const asked = () => {
  const at = sweeping().press("space", "space");
  at.run.playOut();
  return at;
};
const real = () => {
  const at = new Typist(new Driven(jobOf(STEPS, { simulated: false, serial: "A-17" })).begin());
  at.press(AGREE).run.playOut();
  at.press(AGREE).run.playOut();
  return at;
};
/** At the colour wheel: each step before it answered with a good. */
const atWheel = () => {
  const at = sweeping();
  for (let n = 0; n < 2; n++) {
    at.run.playOut();
    at.press("enter");
  }
  return at;
};
const group = () => {
  const at = new Typist(new Driven(jobOf(STEPS.slice(1), { mode: "hands-off" })).started());
  for (let n = 0; n < 6 && at.run.session.stage.kind === "moving"; n++) {
    if (n !== 3) at.press("x");
    at.run.at += n === 3 ? 70 : 0;
    at.run.playOut();
  }
  return at;
};

test.each<{ page: string; shows: () => string; because: string }>([
  {
    page: "before-moving",
    shows: () => new Typist(new Driven(jobOf(STEPS.slice(1))).begin()).page(),
    because: "the first thing anybody sees where it is up already",
  },
  { page: "mains-on", shows: () => attended().page(), because: "the hand is on the switch" },
  {
    page: "power-up",
    shows: () =>
      attended()
        .press(AGREE)
        .page({ ...simulated, frame: 200 }),
    because: "homing: deaf, everything may move",
  },
  { page: "power-up-asked", shows: () => poweredUp().page(), because: "what was seen of the fixture as a whole" },
  { page: "slow-start", shows: () => poweredUp().press(AGREE).page(), because: "before anything at full speed" },
  {
    page: "sweep",
    shows: () => sweeping().page({ ...simulated, frame: 300 }),
    because: "simulated: told and seen differ",
  },
  {
    page: "sweep-real",
    shows: () => real().page({ frame: 300 }),
    because: "on a real bench only the told place is known",
  },
  {
    page: "sweep-pressed",
    shows: () => sweeping().press("space", "space").page({ frame: 300 }),
    because: "two presses",
  },
  { page: "sweep-far", shows: () => sweeping().page({ ...far, frame: 300 }), because: "to be read from three metres" },
  {
    page: "sweep-far-pressed",
    shows: () =>
      sweeping()
        .press("space")
        .page({ ...far, frame: 300, sincePress: 0.4 }),
    because: "a press is answered large",
  },
  { page: "asked", shows: () => asked().page(), because: "pressed, to be named" },
  { page: "asked-two", shows: () => asked().press("3", "0", "3").page(), because: "two symptoms from two lists" },
  {
    page: "asked-note",
    shows: () =>
      asked()
        .press("3", "n", ..."clunk")
        .page(),
    because: "a note on its way",
  },
  { page: "asked-away", shows: () => asked().press("w").page(), because: "somebody left at the question" },
  { page: "asked-far", shows: () => asked().page(far), because: "whoever answers stands at the keyboard" },
  { page: "colour-wheel", shows: () => atWheel().page({ ...simulated, frame: 120 }), because: "places have names" },
  {
    page: "warming",
    shows: () => {
      const at = sweeping();
      at.run.playOut();
      return at.press("enter").page({ frame: 100 });
    },
    because: "three strips, and a lamp that is not to be judged yet",
  },
  { page: "confirm", shows: () => group().page(), because: "silence counts only for what was watched" },
  {
    page: "still-there",
    shows: () =>
      new Typist(new Driven(jobOf(STEPS.slice(1), { mode: "hands-off" })).started()).page({ quiet: 41, frame: 300 }),
    because: "nobody has touched a key for 40 seconds",
  },
  {
    page: "leaving",
    shows: () =>
      new Typist(new Driven(jobOf(STEPS.slice(1), { mode: "hands-off" })).started()).press("w").page({ frame: 30 }),
    because: "waits until the step is over",
  },
  {
    page: "away",
    shows: () =>
      new Typist(new Driven(jobOf(STEPS.slice(1), { mode: "hands-off" })).started().send({ kind: "away" }, 9)).page(),
    because: "still and dark",
  },
  {
    page: "line-lost",
    shows: () => {
      const at = sweeping();
      at.run.send({ kind: "line-lost", words: "/dev/ttyUSB0 was unplugged" }, 200);
      return at.page();
    },
    because: "nothing reaches the fixture",
  },
  {
    page: "line-back",
    shows: () => {
      const at = sweeping();
      at.run.send({ kind: "line-lost", words: "/dev/ttyUSB0 was unplugged" }, 200).send({ kind: "line-open" });
      return at.page();
    },
    because: "one person agrees",
  },
  {
    page: "other-interface",
    shows: () => {
      const at = sweeping();
      at.run.send({ kind: "line-lost", words: "/dev/ttyUSB0 was unplugged" }, 200).send({
        kind: "stranger",
        identity: { number: "8", usb: "" },
        words: "the interface on /dev/ttyUSB0 may be another: it says it is number 8; the one before was number 7",
      });
      return at.page();
    },
    because: "nothing is sent to a stranger",
  },
  { page: "stopped", shows: () => asked().press("3", "enter", "s").page(), because: "what was answered stays" },
  {
    page: "finished",
    shows: () => {
      const at = new Typist(new Driven(jobOf(["sweep: Pan", "sweep: Iris"])).started());
      at.run.playOut();
      at.press("6", "enter").run.playOut();
      return at.press("enter").page();
    },
    because: "before everything is on disk",
  },
  {
    page: "only-inspections",
    shows: () => {
      const at = new Typist(new Driven(jobOf(["sweep: Pan", "sweep: Iris"])).started());
      at.run.diagnose = (findings) => {
        const found = diagnosed(findings);
        const offers = found.advice.kind === "offers" ? found.advice.offers : [];
        return { ...found, advice: { kind: "offers", offers: offers.filter(({ kind }) => kind === "inspection") } };
      };
      at.run.playOut();
      at.press("6", "enter").run.playOut();
      return at.press("enter").page();
    },
    because: "nothing would move, so nobody is told that it does",
  },
  {
    page: "confirm-quick",
    shows: () => {
      const quick = readFileSync("sequences/quick.yaml", "utf8").matchAll(/^ {2}- (.*)$/gm);
      const at = new Typist(
        new Driven(jobOf([...quick].map(([, step]) => step ?? "").slice(2), { mode: "hands-off" })).started(),
      );
      while (at.run.session.stage.kind === "moving") at.press("x").run.playOut();
      return at.page();
    },
    because: "a whole quick check is asked about at once",
  },
  { page: "too-small", shows: () => sweeping().page({ size: { columns: 60, rows: 20 } }), because: "said plainly" },
])("$page: $because", async ({ page, shows }) => {
  await expect(`${shows()}\n`).toMatchFileSnapshot(`./pages/${page}.txt`);
});
