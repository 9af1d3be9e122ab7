import { describe, expect, test } from "vitest";
import { constantsIn } from "../../src/app/fixture/fixture-past.ts";
import { practiceRound } from "../../src/app/simulated/practice.ts";
import { HIDDEN, hiddenFault, LEVELS } from "../../src/app/simulated/practice-levels.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { practiceData, tellPractice, tellRound } from "../../src/reports/practice.ts";
import { stockOf } from "../../src/run/memory/stock.ts";
import { must } from "../kit/shipped.ts";

const OPTIONS = {
  names: { profile: "spot-16bit", sequence: "practice", bench: "bench" },
  level: "easy",
  rounds: 1,
  set: undefined,
  seed: 1,
  watcher: 1,
  person: "KM",
  journal: "",
  run: "practice",
  json: false,
  phone: undefined,
  plain: false,
  distance: false,
} as const;
const SLOW = 240_000;

describe("a round of practice, with the simulated watcher in the junior's place", () => {
  test(
    "says what the hidden fault was, what was caught, which alarms were false, and how long it took",
    async () => {
      const round = must(await practiceRound({ ...OPTIONS, set: ["iris-leaf-kinked"] }, memoryJournal(), 1));
      expect(tellRound(round, 3)).toBe(
        [
          "SIMULATED. Practice, easy, round 1 of 3: 2 min 10 s.",
          "  hidden fault      one leaf of the iris kinked",
          "  caught            iris: full sweep (scrapes or grinds, opening is not round)",
          "  passed correctly  10",
          "  your answers say  iris leaf bent. That is the hidden fault: found",
        ].join("\n"),
      );
      expect(tellPractice([round], undefined)).toContain(
        "  caught: 1 of 1 step in which something showed; too few to judge\n" +
          "  false alarms: 0 of 10 steps in which nothing did; probably between 0 and 28 %",
      );
      // d' by standard signal detection, every cell plus a half (log-linear, Hautus 1995): worked, z(1.5/2) - z(0.5/11).
      expect(practiceData([round]).dPrime).toBeCloseTo(0.67449 + 1.690622, 5);
    },
    SLOW,
  );

  test(
    "each round has its own time, and its fixture is none of the shop's",
    async () => {
      const journal = memoryJournal();
      const first = must(await practiceRound({ ...OPTIONS, set: [], run: "one" }, journal, 1));
      const second = must(await practiceRound({ ...OPTIONS, set: [], run: "two" }, journal, 2));
      expect(Math.abs(second.seconds - first.seconds)).toBeLessThan(1);
      const stock = stockOf(
        await journal.briefs({ kind: "all" }),
        await journal.standings({ kind: "all" }),
        "simulated",
      );
      expect(stock.fixtures).toEqual([]);
    },
    SLOW,
  );

  test(
    "with nothing set nothing shows",
    async () => {
      const round = must(await practiceRound({ ...OPTIONS, set: [] }, memoryJournal(), 1));
      expect(round.steps.flatMap(({ shown }) => shown.symptoms)).toEqual([]);
      expect(tellRound(round, 1)).toContain("hidden fault      nothing");
    },
    SLOW,
  );

  test(
    "the watcher's own reaction is found again: 0.4 s in the mean, an assumption of the simulation",
    async () => {
      const journal = memoryJournal();
      for (let n = 1; n <= 3; n++)
        must(await practiceRound({ ...OPTIONS, set: ["pan-drive-slack", "zoom-rods-dry"], run: `p${n}` }, journal, n));
      const [person] = (await constantsIn(journal)).people;
      expect(person).toMatchObject({ person: "KM" });
      expect(person!.presses).toBeGreaterThan(15);
      expect(Math.abs(person!.reaction - 0.4)).toBeLessThan(0.1);
      expect(await journal.cases()).toEqual([]);
    },
    SLOW,
  );
});

describe("what is hidden", () => {
  test("nothing in about one round of five, else a fault of the level; the same again for the same seed", () => {
    for (const level of LEVELS) {
      const drawn = Array.from({ length: 1000 }, (_, seed) => hiddenFault(level, seed));
      expect(drawn.filter((set) => set.length === 0).length / 1000).toBeCloseTo(0.2, 1);
      expect(new Set(drawn.flat())).toEqual(new Set(HIDDEN[level]));
      expect(hiddenFault(level, 7)).toEqual(hiddenFault(level, 7));
    }
  });

  test(
    "every fault that can be hidden shows in the practice sequence",
    async () => {
      const silent: string[] = [];
      for (const id of Object.values(HIDDEN).flat()) {
        const round = must(await practiceRound({ ...OPTIONS, set: [id], person: "" }, memoryJournal(), 1));
        if (round.steps.every(({ shown }) => shown.symptoms.length === 0)) silent.push(id);
      }
      expect(silent).toEqual([]);
    },
    SLOW,
  );
});
