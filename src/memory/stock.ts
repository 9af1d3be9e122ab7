import { type FaultId, knownFault } from "../faults/knowledge/faults.ts";
import type { RunBrief } from "../record/brief.ts";
import { grouped } from "../record/grouped.ts";
import { NO_SERIAL } from "../record/no-serial.ts";
import { inTime } from "./jobs.ts";
import { type MeanMinutes, meanMinutes } from "./mean-minutes.ts";
import { partsIn } from "./parts.ts";
import { returnsIn } from "./returns.ts";
import { type Standing, standingOf } from "./standing.ts";

/** What stands on the shelf and what ails it. No bookings and no availability: those live elsewhere. */
export interface Stock {
  /** True where all of it is simulated. */
  readonly simulated: boolean;
  /** By serial number. */
  readonly fixtures: readonly StockFixture[];
  /** Found most often first. */
  readonly faults: readonly StockFault[];
  readonly parts: readonly StockPart[];
  readonly minutes: readonly MeanMinutes[];
  readonly returning: readonly StockReturn[];
  /** Runs that count for nothing above: simulated among real ones (or real among simulated), and without a serial number. */
  readonly leftOut: { readonly otherKind: number; readonly withoutSerial: number };
}

export interface StockFixture {
  readonly serial: string;
  /** As of its last run. */
  readonly profile: string;
  readonly standing: Standing;
  readonly runs: number;
  /** The last one, and when it began. */
  readonly run: string;
  readonly at: string;
}

/** A fault by the kind of fixture it was found in. */
export interface StockFault {
  readonly fault: FaultId;
  readonly profile: string;
  readonly found: number;
  readonly serials: readonly string[];
}

/** A part that somebody waits for: its fault was found, and the fixture has not passed since. */
export interface StockPart {
  readonly part: string;
  readonly fixtures: readonly { readonly serial: string; readonly profile: string; readonly fault: FaultId }[];
}

/** A fixture in which a fault was found again in a later job. */
export interface StockReturn {
  readonly serial: string;
  readonly profile: string;
  readonly fault: FaultId;
  readonly times: number;
  /** Since the time before, of the latest return. */
  readonly hours: number;
}

/** Of all runs there are, in any order: the real ones or the simulated ones, never both together. */
export const stockOf = (all: readonly RunBrief[], kind: "real" | "simulated"): Stock => {
  const wanted = all.filter(({ simulated }) => simulated === (kind === "simulated"));
  const runs = inTime(wanted.filter(({ serial }) => serial !== NO_SERIAL));
  const fixtures = [...grouped(runs, ({ serial }) => serial)].sort(([a], [b]) => (a.serial < b.serial ? -1 : 1));
  return {
    simulated: kind === "simulated",
    fixtures: fixtures.map(stockFixture),
    faults: faultsIn(runs),
    parts: partsWanted(fixtures),
    minutes: meanMinutes(runs),
    returning: fixtures.flatMap(returningIn),
    leftOut: { otherKind: all.length - wanted.length, withoutSerial: wanted.length - runs.length },
  };
};

type Runs = readonly [RunBrief, ...RunBrief[]];
const lastOf = (runs: Runs): RunBrief => runs.at(-1) ?? runs[0];

const stockFixture = (runs: Runs): StockFixture => {
  const { serial, profile, run, at } = lastOf(runs);
  return { serial, profile, standing: standingOf(runs), runs: runs.length, run, at };
};

const faultsIn = (runs: readonly RunBrief[]): readonly StockFault[] => {
  const found = runs.flatMap((run) => partsIn([run]).map(({ fault }) => ({ fault, ...run })));
  return grouped(found, ({ fault, profile }) => JSON.stringify([fault, profile]))
    .map((group) => ({
      fault: group[0].fault,
      profile: group[0].profile,
      found: group.length,
      serials: [...new Set(group.map(({ serial }) => serial))],
    }))
    .sort((a, b) => b.found - a.found);
};

const partsWanted = (fixtures: readonly Runs[]): readonly StockPart[] =>
  grouped(fixtures.flatMap(waiting), ({ fault }) => knownFault(fault).part).map((group) => ({
    part: knownFault(group[0].fault).part,
    fixtures: group,
  }));

/** What was found in the last run that passed or after it. */
const waiting = (runs: Runs): StockPart["fixtures"] => {
  const passed = runs.findLastIndex((run) => standingOf([run]) === "passed");
  const { serial, profile } = lastOf(runs);
  const faults = new Set(partsIn(runs.slice(Math.max(passed, 0))).map(({ fault }) => fault));
  return [...faults].map((fault) => ({ serial, profile, fault }));
};

const returningIn = (runs: Runs): readonly StockReturn[] => {
  const { serial, profile } = lastOf(runs);
  const returns = returnsIn(runs).flatMap((one) => (one.kind === "fault" ? [one] : []));
  return grouped(returns, ({ fault }) => fault).map((group) => ({
    serial,
    profile,
    fault: group[0].fault,
    times: group.length,
    hours: group.at(-1)?.hours ?? 0,
  }));
};
