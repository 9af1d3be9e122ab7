import { FUNCTIONS } from "../../domain/trade/functions.ts";
import { SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import type { Probability } from "../../domain/units.ts";
import { exposure, expression } from "./exposure.ts";
import { comesOut } from "./knowledge/comes-out.ts";
import { SELDOM } from "./knowledge/effect.ts";
import type { Condition } from "./knowledge/entry.ts";
import type { FaultId } from "./knowledge/faults.ts";
import { effectsOf, type LayeredFault, type LayeredNetwork } from "./layers.ts";
import { isStranger } from "./network.ts";
import { type NodeId, symptomIn } from "./node.ts";
import type { Observation, Report } from "./observation.ts";
import { canShow, type Finding, findingAt, type MovingPart, type Place, partOf, placeOf } from "./places.ts";

/** A finding of the run, and the steps in which it was reported. */
export interface Reported {
  readonly finding: Finding;
  readonly symptom: SymptomId;
  readonly sources: readonly { readonly observation: Observation; readonly report: Report }[];
}

/** Everything reported in the run, once each; a symptom reported anywhere is there, whatever passed elsewhere. */
export function reportsOf(parts: readonly MovingPart[], observations: readonly Observation[]): readonly Reported[] {
  const found = new Map<NodeId, Reported>();
  for (const observation of observations.filter(counts))
    for (const report of observation.symptoms) {
      const finding = findingAt(placeOfReport(parts, observation, report), report.symptom);
      const sources = [...(found.get(finding.id)?.sources ?? []), { observation, report }];
      found.set(finding.id, { finding, symptom: report.symptom, sources });
    }
  return [...found.values()];
}

/** The computer's own trouble and steps nobody did tell nothing of the fixture. */
const counts = ({ result }: Observation): boolean => result === "fail" || result === "unsure" || result === "pass";

function placeOfReport(
  parts: readonly MovingPart[],
  observation: Observation,
  { symptom, function: id }: Report,
): Place {
  if (SYMPTOMS[symptom].on === "fixture") return "fixture";
  if (id !== undefined) {
    const named = observation.functions.find((one) => one.function === id);
    return placeOf(partOf(parts, named ?? { function: id, mechanism: FUNCTIONS[id].mechanism }), symptom);
  }
  const able = new Set(
    observation.functions.flatMap((one) => {
      const part = partOf(parts, one);
      return part && canShow(part.mechanism, symptom) ? [part] : [];
    }),
  );
  const [only] = able;
  return able.size === 1 && only ? only : "fixture";
}

/** How a node of the network changes in the light of the run. */
export interface NodeChange {
  readonly leak: Probability;
  /** The factor on the link of a fault of this condition that sits in this mechanism. */
  readonly factor: (when: Condition, fault: string) => Probability;
}

/** Changes by the id of the node they are made to. */
export type NodeChanges = readonly (readonly [NodeId, NodeChange])[];

/** How often each node of the network is reported although nothing is wrong, by its id. */
export type NodeLeaks = ReadonlyMap<NodeId, Probability>;

/** Never less than this: a symptom reported once is not talked away by what passed elsewhere. */
const FLOOR: Probability = 0.4;
/** Nor is it ruled out by when it came: one fault in ten shows outside its condition, being worse than most, or warm from before. Judgement. */
const OUTSIDE: Probability = SELDOM;
/** Reported again, it is less likely to have been imagined; by the same eyes, not by much. Starter value, judgement. */
const AGAIN: Probability = 0.4;
/**
 * Who is unsure is right about half as often. A report is volunteered: one is unsure of something four times as often as sure
 * of it where nothing is wrong, and that is spread over all there is to report, as the leaks are. An inspection is a question
 * that everybody is asked, and one in five cannot say. Starter values, judgement.
 */
const UNSURE = { link: 0.5, oftener: 4, asked: 0.2 } as const;
/** A report that tells less, because somebody was unsure: its leak is higher and its links are weaker. */
export const doubtful = ({ leak, factor }: NodeChange): NodeChange => ({
  leak: Math.min(0.5, leak * UNSURE.oftener),
  factor: (when, fault) => factor(when, fault) * UNSURE.link,
});
/** An inspection that left somebody unsure. */
export const unsureOf = ({ leak, factor }: NodeChange): NodeChange => ({
  leak: Math.max(leak, UNSURE.asked),
  factor: (when, fault) => factor(when, fault) * UNSURE.link,
});

/** A reported symptom weighed by when it came and when it did not: cold, warm, shaken, each time or seldom. */
export function presentChanges(
  network: LayeredNetwork,
  reported: readonly Reported[],
  observations: readonly Observation[],
  leaks: NodeLeaks,
): NodeChanges {
  const first = firstSigns(network, reported);
  return reported.flatMap(({ finding: { id }, symptom, sources }) => {
    const leak = leaks.get(id);
    if (leak === undefined) return [];
    const seen = new Set(sources.map(({ observation }) => observation));
    const fitting = fitsOf(seen, observations, symptom);
    const bringing = network.faults.filter((fault) => canBring(fault, id));
    const fits = (when: Condition, fault: string) => fitting(when, STAYS_OUT.has(when) && first.get(fault) !== id);
    const best = Math.max(FLOOR, ...bringing.map((fault) => fits(conditionOf(fault.id, id), fault.id)));
    const change: NodeChange = {
      leak: Math.min(0.5, (leak / best) * AGAIN ** (seen.size - 1)),
      factor: (when, fault) => fits(when, fault) / best,
    };
    return [[id, [...seen].every(({ result }) => result === "unsure") ? doubtful(change) : change] as const];
  });
}

/** A contact that has come loose stays so for a while: only the first sign of it in a run is a matter of luck. */
const STAYS_OUT: ReadonlySet<Condition> = new Set(["shaken", "now-and-then"]);

/** For each fault the finding that it was the likeliest to bring. */
function firstSigns(network: LayeredNetwork, reported: readonly Reported[]): ReadonlyMap<string, NodeId> {
  return new Map(
    network.faults.flatMap((fault) => {
      const own = reported
        .filter(({ finding }) => canBring(fault, finding.id))
        .map(({ finding: { id }, sources }) => ({
          id,
          came: cameBy(
            conditionOf(fault.id, id),
            sources.map(({ observation }) => observation),
          ),
        }))
        .sort((a, b) => b.came - a.came || (a.id < b.id ? -1 : 1));
      return own[0] ? [[fault.id, own[0].id] as const] : [];
    }),
  );
}

/** What came at its least likely moment would have come at all the others: how much it takes is a matter of the fixture, not of the step. */
const cameBy = (when: Condition, seen: readonly Observation[]): Probability =>
  Math.min(1, ...seen.map((one) => expression(when, one)));

const canBring = (fault: LayeredFault, finding: NodeId): boolean =>
  effectsOf(fault).some(({ links }) => links.has(finding));

/** How well a condition fits when the symptom came and when it stayed away; `out`: the fault has shown itself before. */
function fitsOf(seen: ReadonlySet<Observation>, observations: readonly Observation[], symptom: Reported["symptom"]) {
  const likes = new Set([...seen].flatMap(movements));
  const missed = observations
    .filter((one) => !seen.has(one) && movements(one).some((movement) => likes.has(movement)))
    .map((observation) => ({ observation, caught: exposure(observation, symptom) }));
  const known = new Map<string, Probability>();
  return (when: Condition, out: boolean): Probability => {
    const key = `${when} ${out}`;
    const came = out ? 1 : Math.max(OUTSIDE, cameBy(when, [...seen]));
    const fit =
      known.get(key) ??
      came *
        Math.max(
          FLOOR,
          missed.reduce((left, one) => left * (1 - one.caught * expression(when, one.observation)), 1),
        );
    known.set(key, fit);
    return fit;
  };
}

/** Only the same movement of the same part is a second try at the same thing. */
const movements = ({ routine, functions }: Observation): readonly string[] =>
  functions.map(({ function: id }) => `${routine} ${id.replace(/Pos$/, "")}`);

/**
 * When a fault brings a finding: always, or only warm, shaken, under load ... What is on no list may show at any time.
 *
 * @param finding - by its id in the network
 */
export const conditionOf = (fault: string, finding: NodeId): Condition =>
  isStranger(fault) ? "always" : comesOut(fault as FaultId, symptomIn(finding));
