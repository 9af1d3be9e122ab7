import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { rackOfOne } from "../../src/run/batch/batch.ts";
import type { WatcherInput } from "../../src/run/machine/input.ts";
import type { Spectacle } from "../../src/run/ports.ts";
import type { ScreenOptions } from "../../src/ui/attendant.ts";
import { plainScreen } from "../../src/ui/plain.ts";
import { screen } from "../../src/ui/screen.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { unmarked } from "../kit/of-one.ts";
import { emulated, typed } from "./emulated.ts";
import { PLAN } from "./sights.ts";

const STEPS = ["{ sweep: Pan, seconds: 10 }", "sweep: Iris"];
const { letters, ...buttons } = PLAN;
const SHOWS: Spectacle = { parts: [], sounds: [], light: "dark", display: "address 1" };

beforeEach(() => {
  vi.useFakeTimers({
    toFake: ["setTimeout", "clearTimeout", "setInterval", "clearInterval", "setImmediate", "clearImmediate"],
  });
});
afterEach(() => {
  vi.useRealTimers();
});

/** A screen on an emulated terminal, a session driven by hand, and a clock that moves when asked to. */
const opened = (run: Driven, more: Partial<ScreenOptions> = {}, open = screen) => {
  const terminal = emulated(80, 24);
  const keyboard = typed();
  let now = 0;
  const watcher = open({
    buttons,
    footSwitch: undefined,
    frame: () => 100,
    spectacle: undefined,
    colour: false,
    distance: false,
    stdin: keyboard.stdin,
    stdout: terminal.stdout,
    now: () => now,
    ...more,
  });
  const inputs: WatcherInput[] = [];
  watcher.listen((heard) => {
    const input = unmarked("r", heard);
    inputs.push(input);
    run.send(input);
  });
  const show = () => watcher.show(rackOfOne(run.session, "r"));
  const pass = async (ms: number) => {
    for (let left = ms; left > 0; left -= 50) {
      now += 50;
      await vi.advanceTimersByTimeAsync(50);
    }
  };
  /** The emulator reads in its own time, which is ours here. */
  const seen = async () => {
    const soon = terminal.screen();
    await vi.advanceTimersByTimeAsync(20);
    return await soon;
  };
  show();
  return { ...terminal, ...keyboard, screen: seen, watcher, inputs, show, pass };
};

test("React is loaded as it is shipped: what it looks at is set before, or it would keep a measurement of every drawing", async () => {
  const { act } = await import("react");
  expect(act, "only the build for development has it").toBeUndefined();
});

describe("the screen", () => {
  test("shows what was published, and answers what it has drawn", async () => {
    const run = new Driven(jobOf(STEPS)).started();
    const at = opened(run);
    await at.pass(50);
    expect(await at.screen()).toContain("  PAN\n");
    at.type("  ");
    expect(at.inputs).toEqual([
      { kind: "press", answers: "0.1" },
      { kind: "press", answers: "0.1" },
    ]);
    at.show();
    await at.pass(50);
    expect(await at.screen()).toContain("Pressed 2 times in this step.");
    at.watcher.close();
  });

  test("a press between the end of a step and the next drawing still names the step that was watched", async () => {
    const run = new Driven(jobOf(STEPS, { mode: "hands-off" })).started();
    const at = opened(run);
    await at.pass(50);
    run.playOut();
    at.show();
    at.type(" ");
    expect(at.inputs).toEqual([{ kind: "press", answers: "0.1" }]);
    expect(run.events("pressed").map(({ step }) => step)).toEqual(["sweep-pan"]);
    await at.pass(50);
    at.type(" ");
    expect(at.inputs[1]).toEqual({ kind: "press", answers: "1.1" });
    at.watcher.close();
  });

  test("a blank in a note that is typed just after a movement is a blank, not a late press", async () => {
    const run = new Driven(jobOf(STEPS)).started();
    const at = opened(run);
    await at.pass(50);
    run.playOut();
    at.show();
    await at.pass(500);
    at.type("nup and down\r");
    expect(run.events("pressed")).toEqual([]);
    expect(run.session.stage).toMatchObject({ kind: "asking", note: "up and down" });
    at.watcher.close();
  });

  test("leaving, asked for while it moves, is asked for when the next step begins", async () => {
    const run = new Driven(jobOf(STEPS, { mode: "hands-off" })).started();
    const at = opened(run);
    await at.pass(50);
    at.type("w");
    expect(run.session.stage.kind).toBe("moving");
    run.playOut();
    at.show();
    expect(run.session.stage).toMatchObject({ kind: "paused", why: "away", next: { index: 1 } });
    at.show();
    await at.pass(50);
    expect(await at.screen()).toContain("  PAUSE\n");
    at.watcher.close();
  });

  test("a terminal of another size is painted anew; one that is too small is told so and takes no answers", async () => {
    const run = new Driven(jobOf(STEPS)).started().playOut();
    const at = opened(run);
    await at.pass(50);
    at.resize(60, 20);
    await at.pass(50);
    expect(await at.screen()).toBe(
      [
        "  This terminal has 60 columns and 20 rows. Make it 80 by",
        "  24, or use --plain.",
        "  It waits for an answer.",
        "  Something wrong: SPACE or PAGE DOWN. Stop: S or ESCAPE.",
      ].join("\n"),
    );
    at.type("\r");
    expect(run.results()["sweep-pan"]).toBe("open");
    at.resize(100, 30);
    await at.pass(50);
    const wide = await at.screen();
    expect(wide).toContain("PAN: WHAT DID YOU SEE?");
    expect(wide).not.toContain("This terminal");
    await at.pass(1000);
    at.type("\r");
    expect(run.results()["sweep-pan"]).toBe("pass");
    at.watcher.close();
  });

  test.each([
    { bench: "simulated", spectacle: () => [SHOWS], times: 20, because: "the movement is watched here" },
    { bench: "real", spectacle: undefined, times: 10, because: "nobody watches it here, and the frames come first" },
  ])(
    "asked $times times a second at most on a $bench bench ($because), written only when something has changed",
    async ({ spectacle, times }) => {
      let asked = 0;
      const frame = () => {
        asked++;
        return 100;
      };
      const at = opened(new Driven(jobOf(STEPS)).started(), { frame, spectacle });
      await at.pass(100);
      const [before, bytes] = [asked, at.output().length];
      await at.pass(1000);
      expect(asked - before).toBe(times);
      expect(at.output().length).toBe(bytes);
      at.watcher.close();
    },
  );

  test("rings once when nobody has touched a key for 40 seconds of a hands-off run", async () => {
    const at = opened(new Driven(jobOf(STEPS, { mode: "hands-off" })).started());
    await at.pass(39_000);
    expect(at.output()).not.toContain("\u0007");
    await at.pass(5_000);
    expect(at.output().split("\u0007").length).toBe(2);
    expect(await at.screen()).toContain("! Still watching?");
    at.type("?");
    await at.pass(1_000);
    expect(await at.screen()).not.toContain("Still watching?");
    at.watcher.close();
  });

  test("after a minute without a key it says that what moves does not count as watched, and which key ends that", async () => {
    const at = opened(new Driven(jobOf(STEPS, { mode: "hands-off" })).started());
    await at.pass(59_000);
    expect(await at.screen()).not.toContain("does not count as watched");
    await at.pass(2_000);
    expect((await at.screen()).replaceAll(/\s+/g, " ")).toContain(
      "No key for a minute: what moves now does not count as watched. Press any key: it counts again from then on.",
    );
    at.type("?");
    await at.pass(1_000);
    expect(await at.screen()).not.toContain("does not count as watched");
    at.watcher.close();
  });

  test("an escape that comes alone is the stop button, though only after a moment", async () => {
    const at = opened(new Driven(jobOf(STEPS)).started());
    await at.pass(50);
    at.type("\u001b");
    expect(at.inputs).toEqual([]);
    await at.pass(50);
    expect(at.inputs).toEqual([{ kind: "stop" }]);
    at.watcher.close();
  });

  test("closing leaves a sane terminal, also when it is done twice", async () => {
    const at = opened(new Driven(jobOf(STEPS)).started());
    await at.pass(50);
    expect(at.raw()).toBe(true);
    at.watcher.close();
    at.watcher.close();
    expect([at.raw(), at.listening(), at.buffer()]).toEqual([false, false, "alternate"]);
    expect(await at.screen()).toBe("");
    expect(at.buffer()).toBe("normal");
    expect(at.output().lastIndexOf("\u001b[?25h")).toBeGreaterThan(at.output().lastIndexOf("\u001b[?25l"));
    const written = at.output().length;
    at.show();
    await at.pass(500);
    expect(at.output().length).toBe(written);
  });

  test("a terminal that goes away is a signal, not a crash", async () => {
    const at = opened(new Driven(jobOf(STEPS)).started());
    await at.pass(50);
    at.breakOff();
    at.end();
    expect(at.inputs).toEqual([
      { kind: "signal", name: "SIGHUP" },
      { kind: "signal", name: "SIGHUP" },
    ]);
    at.watcher.close();
  });

  test("what the system cannot do is told in passing", async () => {
    const at = opened(new Driven(jobOf(STEPS)).started());
    at.watcher.notice("No speech program found: nothing is said aloud.");
    await at.pass(50);
    expect(await at.screen()).toContain("No speech program found");
    at.watcher.close();
  });
});

describe("an answer is meant by somebody who has seen the question", () => {
  /** Up to the safety page, with the screen just opened. */
  const atSafetyPage = () => {
    const run = new Driven(jobOf(STEPS)).begin();
    return { run, at: opened(run) };
  };
  const repeating = async (at: ReturnType<typeof opened>, key: string, times: number) => {
    at.type(key);
    await at.pass(500);
    for (let n = 0; n < times; n++) {
      at.type(key);
      at.show();
      await at.pass(50);
    }
  };

  test("typed ahead of the page: nothing moves, and it is said why", async () => {
    const { run, at } = atSafetyPage();
    at.type("c");
    await at.pass(100);
    at.type("\r \rc");
    await at.pass(300);
    expect(run.session.stage.kind).toBe("holding");
    expect(await at.screen()).toContain("That key came before this page could be read.");
    await at.pass(1000);
    at.type("c");
    expect(run.session.stage.kind).toBe("slow-start");
    at.watcher.close();
  });

  test.each([" ", "\r", "c"])("held from the start, %j moves nothing for as long as it is held", async (key) => {
    const { run, at } = atSafetyPage();
    await repeating(at, key, 60);
    expect(run.session.stage.kind).toBe("holding");
    at.watcher.close();
  });

  test("the answers are shown from the moment on in which they count", async () => {
    const { at } = atSafetyPage();
    await at.pass(300);
    expect(await at.screen()).not.toContain("all of this is confirmed.");
    await at.pass(200);
    expect(await at.screen()).toContain("C: all of this is confirmed.");
    at.watcher.close();
  });

  test("G held for three seconds answers one look, not all of them", async () => {
    const run = new Driven(jobOf(["inspect: outside", "power-up: fixture", ...STEPS])).begin();
    const at = opened(run);
    const point = run.session.stage;
    expect(point).toMatchObject({ kind: "by-hand", task: { kind: "hold-point" } });
    await at.pass(500);
    at.type("p");
    at.show();
    await at.pass(500);
    await repeating(at, "g", 50);
    expect(run.events("inspected").length).toBe(1);
    at.watcher.close();
  });

  test("a step that is played again by a held button begins again once", async () => {
    const run = new Driven(jobOf(STEPS)).started();
    const at = opened(run);
    await at.pass(50);
    await repeating(at, "a", 30);
    expect(run.events("course-changed").length).toBe(1);
    at.watcher.close();
  });
});

describe("in plain mode", () => {
  test("the same questions and answers, a sentence for each change, no cursor moved", async () => {
    const run = new Driven(jobOf(STEPS)).begin();
    let shows = SHOWS;
    const at = opened(run, { spectacle: () => [shows] }, plainScreen);
    const does = async (keys: string, ms = 100) => {
      at.type(keys);
      at.show();
      await at.pass(ms);
    };
    await at.pass(500);
    await does("c");
    run.playOut();
    at.show();
    shows = { ...SHOWS, sounds: ["scrape"] };
    await at.pass(100);
    shows = SHOWS;
    await does("  ");
    run.playOut();
    await does("", 500);
    await does("6");
    await does("0");
    await does("3");
    await does("nclunk at the left end\r", 1000);
    await does("\r");
    run.send({ kind: "stored", count: 20 });
    await does("");
    await does("s");
    at.watcher.close();
    expect(at.output()).not.toContain("\u001b");
    await expect(at.output()).toMatchFileSnapshot("./pages/plain.txt");
  });

  test("keys read the same way: raw while it runs, as before afterwards", async () => {
    const at = opened(new Driven(jobOf(STEPS)).started(), {}, plainScreen);
    expect(at.raw()).toBe(true);
    at.type("  ");
    expect(at.inputs.map(({ kind }) => kind)).toEqual(["press", "press"]);
    at.watcher.close();
    expect([at.raw(), at.listening()]).toEqual([false, false]);
  });

  test("no more keys can come: that is a signal", () => {
    const at = opened(new Driven(jobOf(STEPS)).started(), {}, plainScreen);
    at.end();
    expect(at.inputs).toEqual([{ kind: "signal", name: "SIGHUP" }]);
    at.watcher.close();
  });
});
