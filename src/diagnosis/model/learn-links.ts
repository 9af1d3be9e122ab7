import type { Probability } from "../../domain/units.ts";
import { type Case, type CaseFinding, isAbsent } from "./case.ts";
import type { Network, NetworkSymptom } from "./layers.ts";
import type { Figure } from "./shop.ts";

/** A Beta distribution: what is believed of a number before its cases. */
export interface Beta {
  readonly a: number;
  readonly b: number;
}

/** Links after learning, and the log likelihood (with the Beta priors) before each round: it never falls. */
export interface LearnedLinks {
  readonly links: Readonly<Record<string, Readonly<Record<string, Figure>>>>;
  readonly logLikelihood: readonly number[];
}

const MOST_ROUNDS = 200;
const ENOUGH = 1e-12;

/**
 * Learns the links of confirmed faults by expectation-maximisation (Dempster, Laird and Rubin 1977). Leaks stay as they
 * are. A fault that nobody looked for adds to the leak of what it could have shown, by its prior. `priorOf` turns a starter
 * link into its Beta prior, and `rounds` is how many rounds are made at most, from 1.
 */
export function learnLinks(
  network: Network,
  cases: readonly Case[],
  priorOf: (link: Probability) => Beta,
  rounds = MOST_ROUNDS,
): LearnedLinks {
  const known = cases.filter(({ confirmed }) => confirmed.length > 0).map(indexed);
  const learned = network.symptoms.map((symptom) => learnSymptom(symptom, network, known, priorOf, rounds));
  return {
    links: Object.fromEntries(
      learned.filter(({ figures }) => figures.length > 0).map((one) => [one.id, Object.fromEntries(one.figures)]),
    ),
    logLikelihood: addUp(learned.map(({ logLikelihood }) => logLikelihood)),
  };
}

/** One case as this symptom sees it. */
interface CaseRow {
  readonly seen: boolean;
  /** How often it shows without any of the confirmed faults. */
  readonly leak: Probability;
  readonly parents: readonly { readonly fault: string; readonly chance: Probability }[];
}

function learnSymptom(
  symptom: NetworkSymptom,
  network: Network,
  cases: readonly Indexed[],
  priorOf: (link: Probability) => Beta,
  rounds: number,
) {
  const rows = rowsOf(symptom, cases, backgroundOf(symptom, network));
  const parents = [...new Set(rows.flatMap((row) => row.parents.map(({ fault }) => fault)))];
  const betas = new Map(parents.map((fault) => [fault, priorOf(symptom.links[fault] ?? 0)]));
  const logLikelihood: number[] = [];
  let links = new Map(parents.map((fault) => [fault, symptom.links[fault] ?? 0]));
  for (let round = 0; round < rounds; round++) {
    logLikelihood.push(likelihood(rows, links, betas));
    const better = new Map(parents.map((fault) => [fault, improve(fault, rows, links, betas.get(fault))]));
    const change = Math.max(0, ...parents.map((fault) => Math.abs((better.get(fault) ?? 0) - (links.get(fault) ?? 0))));
    links = better;
    if (change < ENOUGH) break;
  }
  return {
    id: symptom.id,
    figures: parents.map((fault) => [fault, figure(fault, rows, links)] as const),
    logLikelihood,
  };
}

function rowsOf(symptom: NetworkSymptom, cases: readonly Indexed[], background: Background): readonly CaseRow[] {
  return cases.flatMap((one) => {
    const finding = one.findings.get(symptom.id);
    const parents = one.confirmed.filter((fault) => (symptom.links[fault] ?? 0) > 0);
    if (!finding || parents.length === 0) return [];
    return [{ seen: finding.seen, leak: background(one.outcome), parents: parents.map(withChance(finding)) }];
  });
}

/** A case whose findings are found at once: there are hundreds in each, and each is asked for by every symptom. */
interface Indexed {
  readonly outcome: Case;
  readonly confirmed: readonly string[];
  readonly findings: ReadonlyMap<string, CaseFinding>;
}

const indexed = (outcome: Case): Indexed => ({
  outcome,
  confirmed: outcome.confirmed,
  findings: new Map(outcome.findings.map((finding) => [finding.id, finding])),
});

const withChance =
  ({ chance }: CaseFinding) =>
  (fault: string) => ({ fault, chance: chance[fault] ?? 1 });

/** How often a symptom shows in a case without any of the confirmed faults. */
type Background = (one: Case) => Probability;

function backgroundOf({ leak, links }: NetworkSymptom, { faults }: Network): Background {
  const parents = faults.filter(({ id }) => (links[id] ?? 0) > 0);
  return (one) => {
    if (one.rest === "absent") return leak;
    const unknown = parents.filter(({ id }) => !one.confirmed.includes(id) && !isAbsent(id, one));
    return 1 - unknown.reduce((left, { id, prior }) => left * (1 - prior * (links[id] ?? 0)), 1 - leak);
  };
}

type Links = ReadonlyMap<string, Probability>;

/** The chance that nobody reports it, but for one of its faults. */
const silent = ({ leak, parents }: CaseRow, links: Links, but?: string): Probability =>
  parents.reduce(
    (left, { fault, chance }) => (fault === but ? left : left * (1 - (links.get(fault) ?? 0) * chance)),
    1 - leak,
  );

/** The link that makes what was seen most probable, holding the shares of blame of the last round. */
function improve(fault: string, rows: readonly CaseRow[], links: Links, beta: Beta | undefined): Probability {
  const { a, b } = beta ?? { a: 1, b: 1 };
  const own = rows.filter(({ parents }) => parents.some((parent) => parent.fault === fault));
  const on = own.reduce((sum, row) => sum + shareOf(fault, row, links), 0);
  return Math.min(CERTAIN, Math.max(0, (a - 1 + on) / (a + b - 2 + own.length)));
}

/** Sums of shares round up: a link stays below 1, or what was not seen once would be impossible. */
const CERTAIN: Probability = 1 - 1e-12;

/** How probable it is that this fault did show the symptom: caught, or missed while something else was caught. */
function shareOf(fault: string, row: CaseRow, links: Links): Probability {
  const link = links.get(fault) ?? 0;
  const chance = row.parents.find((parent) => parent.fault === fault)?.chance ?? 1;
  if (!row.seen) return (link * (1 - chance)) / (1 - link * chance);
  const others = 1 - silent(row, links, fault);
  return (link * (chance + (1 - chance) * others)) / (1 - silent(row, links));
}

function likelihood(rows: readonly CaseRow[], links: Links, betas: ReadonlyMap<string, Beta>): number {
  const seen = rows.reduce((sum, row) => sum + Math.log(row.seen ? 1 - silent(row, links) : silent(row, links)), 0);
  const believed = [...betas].reduce((sum, [fault, { a, b }]) => {
    const link = links.get(fault) ?? 0;
    return sum + weighed(a - 1, link) + weighed(b - 1, 1 - link);
  }, 0);
  return seen + believed;
}

/** Nothing times the logarithm of nothing is nothing. */
const weighed = (times: number, value: number): number => (times === 0 ? 0 : times * Math.log(value));

const figure = (fault: string, rows: readonly CaseRow[], links: Links): Figure => {
  const own = rows.filter(({ parents }) => parents.some((parent) => parent.fault === fault));
  return { value: links.get(fault) ?? 0, yes: own.filter(({ seen }) => seen).length, of: own.length };
};

/** Symptoms that settled earlier keep their last value. */
const addUp = (columns: readonly (readonly number[])[]): readonly number[] =>
  Array.from({ length: Math.max(0, ...columns.map(({ length }) => length)) }, (_, round) =>
    columns.reduce((sum, column) => sum + (column[Math.min(round, column.length - 1)] ?? 0), 0),
  );
