/** A mistake made on purpose: what a file says instead, which tests should notice, and why it matters. */
export interface Mutant {
  readonly file: string;
  readonly from: string;
  readonly to: string;
  readonly tests: string;
  readonly because: string;
}

/** Mistakes that once slipped through every test. */
export const NAMED: readonly Mutant[] = [
  {
    file: "src/run/session/by-hand/holds.ts",
    from: 'if (point === "mains-on") return [];',
    to: 'if (point === "mains-on") return holds;',
    tests: "test/run/session/by-hand.test.ts",
    because: "hold points lapse when the mains returns",
  },
  {
    file: "src/data/profile/check.ts",
    from: "band.from <= other.to && other.from <= band.to",
    to: "band.from < other.to && other.from < band.to",
    tests: "test/data/profile/parse.test.ts",
    because: "bands that share one level overlap",
  },
  {
    file: "src/run/session/playing.ts",
    from: "const VISIBLY_LATE_S = 0.025;",
    to: "const VISIBLY_LATE_S = 0.03;",
    tests: "test/run/session/session.test.ts",
    because: "a frame late by a whole frame looks like a jerk",
  },
  {
    file: "src/run/session/flow.ts",
    from: "const GROUP_SECONDS = 200;",
    to: "const GROUP_SECONDS = 230;",
    tests: "test/run/session/session.test.ts",
    because: "no group lasts longer than somebody can answer for",
  },
  {
    file: "src/plan/base.ts",
    from: '["Iris", look === "dot" ? 10 : 100],',
    to: '["Iris", look === "dot" ? 100 : 10],',
    tests: "test/plan",
    because: "a dot is small, a field is wide",
  },
  {
    file: "src/run/session/by-hand/answering.ts",
    from: 'if (input.result !== "fail" || note === "") return stay(session);',
    to: 'if (input.result !== "fail") return stay(session);',
    tests: "test/run/session/by-hand.test.ts",
    because: "nothing is held back without a reason in a person's own words",
  },
  {
    file: "src/run/memory/stock.ts",
    from: "one.fault === fault && one.at >= at",
    to: "one.fault === fault",
    tests: "test/run/memory",
    because: "a repair from before the find mends nothing that was found after it",
  },
  {
    file: "src/plan/flashes.ts",
    from: "export const MOST_FLASHES = 3;",
    to: "export const MOST_FLASHES = 4;",
    tests: "test/plan",
    because: "more than three flashes a second harm people",
  },
  {
    file: "src/data/profile/lint/of-bands.ts",
    from: "const FASTEST_STROBE: Hertz = 35;",
    to: "const FASTEST_STROBE: Hertz = 36;",
    tests: "test/data/profile/lint.test.ts",
    because: "flashes a minute are no flashes a second",
  },
  {
    file: "src/run/machine/clearance.ts",
    from: "still <= UNSEEN_S",
    to: "still <= 2 * UNSEEN_S",
    tests: "test/run/machine",
    because: "after a minute without a key nobody knows where people are",
  },
  {
    file: "src/run/machine/clearance.ts",
    from: 'if (powersUp) return frame === 0 ? "mains-on" : undefined;',
    to: "if (powersUp) return undefined;",
    tests: "test/run",
    because: "whoever switches the mains on is asked first",
  },
  {
    file: "src/run/machine/interrupting.ts",
    from: "  ...uncleared(state),\n  trouble: words,\n});",
    to: "  ...state,\n  trouble: words,\n});",
    tests: "test/run/machine",
    because: "after a standstill the area is asked about again",
  },
  {
    file: "src/domain/statistics/sample.ts",
    from: "spare > 0",
    to: "spare >= 0",
    tests: "test/domain/statistics",
    because: "two readings say nothing about how far readings scatter",
  },
  {
    file: "src/data/profile/gdtf/wheel.ts",
    from: "inOrder ? n + 1",
    to: "inOrder ? n - 1",
    tests: "test/data/profile/gdtf",
    because: "the first slot of a wheel is its open one",
  },
];
