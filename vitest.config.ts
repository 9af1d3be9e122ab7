import { defineConfig } from "vitest/config";

/** Rooms that know no clock, no process and no file of their own: their tests share one module graph. */
const PURE = [
  "domain",
  "data",
  "plan",
  "wire",
  "diagnosis",
  "reports",
  "sim",
  ...["events", "memory", "release", "machine", "session", "batch", "verification"].map((room) => `run/${room}`),
].map((room) => `test/${room}/**/*.test.{ts,tsx}`);

/** Commands, called from one loaded program that these files share: each works in a folder of its own and leaves nothing behind. */
const COMMANDS = ["test/app/*.test.ts"];

/** Screens, pages, recorded runs and what is held of all files: nothing of theirs outlives a file, so that they share one module graph. */
const SCREENS = ["test/ui/*.test.ts", "test/golden/*.test.ts", "test/run/phone/*.test.ts", "test/*.test.ts"];

/**
 * What needs a browser, a database server, a line, a terminal or a beat in real time, or many starts of the program one after the
 * other: whole stories, kills, the packed program. `npm test` leaves them out, `.ci/run` does not.
 */
const LONG = [
  "test/stories/**/*.test.ts",
  "test/app/phone/*-by-phone.test.ts",
  "test/io/phone/page.test.ts",
  "test/reports/in-a-browser.test.ts",
  "test/mishaps/{goes-on,ends,late-signal}.test.ts",
  "test/io/{store,share}/killed.test.ts",
  "test/ui/{start,story,rack-story,where-on-the-wire}.test.ts",
  "test/run/shell/{frame-process,stops-on-the-wire,rdm-on-the-wire}.test.ts",
  "test/app/{doctor,eighty-columns,profile-prove,practice,rdm,share,memory,runs,release}.test.ts",
  "test/kit/warm-program.test.ts",
  "test/app/phone/practice-by-phone.test.ts",
  "test/packed/**/*.test.ts",
  "test/guide/**/*.test.ts",
];

export default defineConfig({
  test: {
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // Many tests wait for programs under a terminal rather than compute: a core left free would only make all of it longer.
    maxWorkers: "100%",
    // A young generation of the usual size is full all the time: clearing it up took a fifth of the processor.
    execArgv: ["--max-semi-space-size=128"],
    setupFiles: ["test/setup.ts"],
    projects: [
      { extends: true, test: { name: "rooms", include: PURE, exclude: LONG, isolate: false } },
      { extends: true, test: { name: "commands", include: COMMANDS, exclude: LONG, isolate: false } },
      { extends: true, test: { name: "screens", include: SCREENS, exclude: LONG, isolate: false } },
      {
        extends: true,
        test: {
          name: "program",
          include: ["test/**/*.test.{ts,tsx}"],
          exclude: [...PURE, ...COMMANDS, ...SCREENS, ...LONG],
        },
      },
      // Whole programs under terminals on a server that others use as well: a second try, which the report names.
      { extends: true, test: { name: "long", include: LONG, retry: process.env["CI"] ? 1 : 0 } },
    ],
  },
});
