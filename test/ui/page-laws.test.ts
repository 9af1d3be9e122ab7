import fc from "fast-check";
import stringWidth from "string-width";
import { expect, test } from "vitest";
import { FUNCTION_IDS, functionWords } from "../../src/domain/trade/functions.ts";
import { ROUTINE_IDS } from "../../src/domain/trade/routines.ts";
import { SYMPTOM_IDS } from "../../src/domain/trade/symptoms.ts";
import { pageOf } from "../../src/ui/page.ts";
import type { Sight } from "../../src/ui/sight.ts";
import { Driven, jobOf } from "../kit/driven.ts";
import { cutCharacters, SCRIPTS } from "../kit/hostile.ts";
import { sightOf, Typist, textOf } from "./sights.ts";

const STEPS = [
  "inspect: outside",
  "power-up: fixture",
  "identify: fixture",
  "{ sweep: [Pan, Tilt], seconds: 2 }",
  "{ step-through: Color1 }",
  "{ rotate: Prism1Pos }",
  "{ hold: Dimmer, at_pct: [2, 5] }",
  "{ in-and-out: Shutter1 }",
  "{ backlash: Focus1 }",
  "{ return: fixture }",
  "hold-point: opening",
  "inspect: due",
  "clean: due",
  "reading: electrical-safety",
];

/** Straight to what is done by hand at the end. */
const BY_HAND = [
  "hold-point: opening",
  "inspect: due",
  "clean: due",
  "reading: electrical-safety",
  "{ power-up: fixture }",
];

/** Everything a person or the world can do, in any order. */
const KEYS = [
  "space",
  "enter",
  "a",
  "tab",
  "escape",
  "backspace",
  ..."0123456789",
  ..."gfxlbnuwhid",
  "ctrl-c",
] as const;
const happening = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom(...KEYS.filter((key) => key !== "ctrl-c" && key !== "escape")) },
  { weight: 4, arbitrary: fc.constant("play out") },
  { weight: 1, arbitrary: fc.constantFrom("lost", "back", "stored", "journal", "escape", "ctrl-c") },
);
const modes = fc.constantFrom("attended" as const, "hands-off" as const);

const happens = (at: Typist, what: string): void => {
  const { run } = at;
  if (what === "play out") run.playOut();
  else if (what === "lost") run.send({ kind: "line-lost", words: "pulled \u001b[31mout" }, 40);
  else if (what === "back") run.send({ kind: "line-open" });
  else if (what === "stored") run.send({ kind: "stored", count: run.session.view.count });
  else if (what === "journal") run.send({ kind: "journal-failed", words: "disk\nfull" });
  else at.press(what);
};

const HOSTILE = "\u001b[2J\u001b]0;owned\u0007\u202egnp.exe\u0000\r\n\u009b31m".replaceAll("\0", "");

/** Any session that keys and the world can bring about. */
const walk = (
  mode: "attended" | "hands-off",
  course: readonly string[],
  look: (at: Typist) => void,
  serial = HOSTILE,
): void => {
  const steps = course.length % 2 === 0 ? STEPS : BY_HAND;
  const at = new Typist(new Driven(jobOf(steps, { mode, serial })));
  look(at);
  at.run.begin();
  at.press("enter");
  for (const what of course) {
    happens(at, what);
    look(at);
  }
};
const sizes = fc.record({ columns: fc.integer({ min: 80, max: 200 }), rows: fc.integer({ min: 24, max: 60 }) });
const letters = fc.constantFrom("usual" as const, "several rows high" as const);
const frames = fc.nat({ max: 3000 });
const anySight = (change: (sight: Partial<Sight>) => void) =>
  fc.assert(
    fc.property(
      modes,
      fc.array(happening, { maxLength: 40 }),
      sizes,
      letters,
      frames,
      (mode, course, size, how, frame) =>
        walk(mode, course, (at) => {
          const { session } = at.run;
          const sight = sightOf(session, { desk: at.desk, size, letters: how, frame });
          change(sight);
          const rows = pageOf(sight);
          const text = textOf(rows);
          expect(rows.length).toBeLessThan(size.rows);
          for (const row of rows) expect(stringWidth(row.text), row.text).toBeLessThanOrEqual(size.columns);
          expect(text.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
          expect(text).not.toMatch(RAW);
          expect(text).not.toMatch(STATISTICS);
          expect(text).not.toContain("@");
        }),
    ),
    { numRuns: 60 },
  );

/** Spellings of files that are no words: "ColorSub_C", "no-move", but not "pan" or "power up". */
const spellings = [
  ...FUNCTION_IDS.filter((id) => id.toLowerCase() !== functionWords(id)),
  ...[...SYMPTOM_IDS, ...ROUTINE_IDS].filter((id) => id.includes("-")),
];
const RAW = new RegExp(`\\b(?:${spellings.join("|")})\\b`);
const STATISTICS = /\b(?:posterior|prior|leak|noisy|likelihood|probab\w*|fingerprint|sigma|Bayes\w*|evidence)\b/i;

test("whatever happens, every page fits, speaks in words and lets nothing through that could move the cursor", () => {
  anySight(() => {});
});

test("the same while a simulated fixture shows hostile things", () => {
  const parts = FUNCTION_IDS.map((id) => ({ function: id, share: 7.3, words: HOSTILE }));
  const spectacle = { parts, sounds: [HOSTILE], light: HOSTILE, display: HOSTILE };
  anySight((sight) => {
    Object.assign(sight, { shown: [{ spectacle, moved: new Map() }], notice: HOSTILE });
  });
});

/** A name everywhere where somebody else may have written one. */
const written = (name: string): readonly string[] => ["n", `pasted:${name}`, "enter", "i", `pasted:${name}`, "enter"];

test.each(Object.entries(SCRIPTS))(
  "in %s (%s): whatever happens, every page fits and no character is cut in two",
  (_, name) => {
    const parts = FUNCTION_IDS.map((id) => ({ function: id, share: 7.3, words: name }));
    const seen = { spectacle: { parts, sounds: [name], light: name, display: name }, moved: new Map() };
    fc.assert(
      fc.property(modes, fc.array(happening, { maxLength: 30 }), sizes, letters, (mode, course, size, how) => {
        const keys = course.flatMap((what, n) => (n % 5 === 4 ? [what, ...written(name)] : [what]));
        const look = (at: Typist) => {
          const rows = pageOf(sightOf(at.run.session, { desk: at.desk, size, letters: how, seen, notice: name }));
          for (const { text } of rows) {
            expect(stringWidth(text), text).toBeLessThanOrEqual(size.columns);
            expect(cutCharacters(text, name), text).toEqual([]);
          }
        };
        walk(mode, keys, look, name);
      }),
      { numRuns: 8 },
    );
  },
);

test("a smaller terminal is told so, in as much room as it has", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 79 }), fc.integer({ min: 1, max: 60 }), letters, (columns, rows, how) => {
      const { session } = new Driven(jobOf(STEPS)).started();
      const page = pageOf(sightOf(session, { size: { columns, rows }, letters: how }));
      expect(page.length).toBeLessThanOrEqual(Math.max(1, rows - 1));
      expect(page[0]?.text).toMatch(/^ *This/);
    }),
  );
});

test("the event that judged it makes it kept, not the one before", () => {
  const at = new Typist(new Driven(jobOf(["sweep: Pan", "sweep: Iris"])).started());
  at.run.playOut();
  at.press("enter");
  const { judgedBy } = at.run.session.view.steps[0] ?? { judgedBy: 0 };
  at.run.send({ kind: "stored", count: judgedBy - 1 });
  expect(at.page()).toContain("pan: full sweep - passed. Not saved yet.");
  at.run.send({ kind: "stored", count: judgedBy });
  expect(at.page()).toContain("pan: full sweep - passed. Saved.");
});

test("nothing is called kept before it is on disk", () => {
  fc.assert(
    fc.property(fc.array(happening, { maxLength: 60 }), (course) => {
      walk("attended", course, (at) => {
        const { session } = at.run;
        const last = Math.max(0, ...session.view.steps.filter(({ judged }) => judged).map(({ judgedBy }) => judgedBy));
        if (at.page().includes(" Saved.")) expect(session.stored).toBeGreaterThanOrEqual(last);
      });
    }),
    { numRuns: 60 },
  );
});
