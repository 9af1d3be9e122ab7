import type { Probability } from "../../domain/units.ts";
import { chancesOf, exposure, expression, isHeardStanding, silenceOf, standsStill } from "./exposure.ts";
import type { Condition } from "./knowledge/entry.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import { alsoCalled } from "./knowledge/neighbouring-words.ts";
import { effectsOf, type LayeredFault, type LayeredNetwork, withLinks } from "./layers.ts";
import { type FixtureNetwork, isStranger, networkFor } from "./network.ts";
import type { Evidence } from "./network-shape.ts";
import { type InspectionAnswer, type Observation, withFunctions } from "./observation.ts";
import {
  belongsToMover,
  canShow,
  type Finding,
  type Fitted,
  findingAt,
  findingsOf,
  type MovingPart,
  placeKey,
} from "./places.ts";
import { type Reported, reportsOf } from "./reports.ts";
import { type Learned, NOTHING_LEARNED, withHistory } from "./shop.ts";
import { UNNAMED_LEAK, unnamedTroubles, withLooseWords, withRepeatedTrouble, withUnnamed } from "./unforeseen.ts";

/** The network of this fixture with the watching reckoned into its links, and what speaks for and against its faults. */
export interface Weighed {
  readonly network: LayeredNetwork;
  /** The same without the words that nobody foresaw: by it is said what explains what. */
  readonly foreseen: LayeredNetwork;
  readonly evidence: Evidence;
  readonly parts: readonly MovingPart[];
  /** Everything that can be reported, by the id of its finding; steps that failed without a word are there too. */
  readonly findings: ReadonlyMap<string, Finding>;
  readonly reported: readonly Reported[];
  /** Looks by hand that left somebody unsure. */
  readonly doubtful: ReadonlySet<string>;
}

/** How a node of the network changes in the light of the run. */
interface Change {
  readonly leak: Probability;
  /** By which the link of a fault of this condition, that sits in this mechanism, is multiplied. */
  readonly factor: (when: Condition, fault: string) => Probability;
}

/**
 * From what was watched and looked at to evidence. A pass speaks against a symptom only as far as that routine on that
 * part could have shown it and that watcher would have caught it; a symptom reported anywhere is there.
 */
export function evidenceFrom(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  learned: Learned = NOTHING_LEARNED,
): Weighed {
  const base = withHistory(networkFor(fitted), learned);
  const watched = withFunctions(fitted, observations);
  const reported = reportsOf(base.parts, watched);
  const unnamed = unnamedTroubles(base.parts, watched, reported);
  const leaks = new Map(base.symptoms.map(({ id, leak }) => [id, leak]));
  const present = [
    ...presentChanges(base, reported, watched, leaks),
    ...unnamed.map(({ finding: { id }, doubted }) => [id, UNNAMED[doubted]] as const),
    ...answered(leaks, answers, ["bad", "unsure"]),
  ];
  const absent = [...missing(base, watched, reported, leaks), ...answered(leaks, answers, ["good"])];
  const foreseen = withUnnamed(
    base,
    unnamed.map(({ finding }) => finding),
  );
  const changes = new Map([...present, ...absent]);
  return {
    network: changed(
      withLooseWords(
        withRepeatedTrouble(foreseen, reported),
        reported.map(({ finding }) => finding),
      ),
      changes,
    ),
    foreseen: changed(foreseen, changes),
    evidence: { present: present.map(([id]) => id), absent: absent.map(([id]) => id) },
    parts: base.parts,
    findings: new Map(
      [...findingsOf(base.parts), ...unnamed.map(({ finding }) => finding)].map((one) => [one.id, one]),
    ),
    reported,
    doubtful: new Set(answered(leaks, answers, ["unsure"]).map(([id]) => id)),
  };
}

type Changes = readonly (readonly [string, Change])[];

function changed(network: LayeredNetwork, changes: ReadonlyMap<string, Change>): LayeredNetwork {
  return {
    faults: network.faults.map((fault) => {
      const when = conditionOf(fault.id);
      return withLinks(fault, (link, id) => Math.min(1, link * (changes.get(id)?.factor(when, fault.id) ?? 1)));
    }),
    symptoms: network.symptoms.map((symptom) => ({
      id: symptom.id,
      leak: changes.get(symptom.id)?.leak ?? symptom.leak,
    })),
  };
}

export const conditionOf = (fault: string): Condition =>
  isStranger(fault) ? "always" : knownFault(fault as FaultId).when;

/** Never less than this: a symptom reported once is not talked away by what passed elsewhere. */
const FLOOR: Probability = 0.4;
/** Reported again, it is less likely to have been imagined; by the same eyes, not by much. Starter value, judgement. */
const AGAIN: Probability = 0.4;
/** Who is unsure is right about half as often, and unsure of something quite often. Starter values, judgement. */
const UNSURE = { link: 0.5, leak: 0.2 } as const;
const doubtful = ({ leak, factor }: Change): Change => ({
  leak: Math.max(leak, UNSURE.leak),
  factor: (when, fault) => factor(when, fault) * UNSURE.link,
});

const PLAIN: Change = { leak: UNNAMED_LEAK, factor: () => 1 };
const UNNAMED = { failed: PLAIN, doubted: doubtful(PLAIN) } as const;

type Leaks = ReadonlyMap<string, Probability>;

/** A reported symptom weighed by when it came and when it did not: cold, warm, shaken, each time or seldom. */
function presentChanges(
  network: LayeredNetwork,
  reported: readonly Reported[],
  observations: readonly Observation[],
  leaks: Leaks,
): Changes {
  const first = firstSigns(network, reported);
  return reported.flatMap(({ finding: { id }, symptom, sources }) => {
    const leak = leaks.get(id);
    if (leak === undefined) return [];
    const seen = new Set(sources.map(({ observation }) => observation));
    const fitting = fitsOf(seen, observations, symptom);
    const bringing = network.faults.filter((fault) => canBring(fault, id));
    const fits = (when: Condition, fault: string) => fitting(when, STAYS_OUT.has(when) && first.get(fault) !== id);
    const best = Math.max(FLOOR, ...bringing.map((fault) => fits(conditionOf(fault.id), fault.id)));
    const change: Change = {
      leak: Math.min(0.5, (leak / best) * AGAIN ** (seen.size - 1)),
      factor: (when, fault) => fits(when, fault) / best,
    };
    return [[id, [...seen].every(({ result }) => result === "unsure") ? doubtful(change) : change] as const];
  });
}

/** A contact that has come loose stays so for a while: only the first sign of it in a run is a matter of luck. */
const STAYS_OUT: ReadonlySet<Condition> = new Set(["shaken", "now-and-then"]);

/** Of each fault the finding that it brought with the least luck. */
function firstSigns(network: LayeredNetwork, reported: readonly Reported[]): ReadonlyMap<string, string> {
  return new Map(
    network.faults.flatMap((fault) => {
      const when = conditionOf(fault.id);
      const own = reported
        .filter(({ finding }) => canBring(fault, finding.id))
        .map(({ finding: { id }, sources }) => ({
          id,
          came: cameBy(
            when,
            sources.map(({ observation }) => observation),
          ),
        }))
        .sort((a, b) => b.came - a.came || (a.id < b.id ? -1 : 1));
      return own[0] ? [[fault.id, own[0].id] as const] : [];
    }),
  );
}

const cameBy = (when: Condition, seen: readonly Observation[]): Probability =>
  [...new Set(seen)].reduce((product, one) => product * expression(when, one), 1);

const canBring = (fault: LayeredFault, finding: string): boolean =>
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
    const came = out ? 1 : cameBy(when, [...seen]);
    const fit =
      known.get(key) ??
      Math.max(
        FLOOR,
        missed.reduce((left, one) => left * (1 - one.caught * expression(when, one.observation)), came),
      );
    known.set(key, fit);
    return fit;
  };
}

/** Only the same movement of the same part is a second try at the same thing. */
const movements = ({ routine, functions }: Observation): readonly string[] =>
  functions.map(({ function: id }) => `${routine} ${id.replace(/Pos$/, "")}`);

/** Where something was called by a neighbouring word, the word that was not used is hardly a silence. Judgement. */
const CALLED_OTHERWISE: Probability = 0.25;
/** Who has called a part bad once does not list everything else about it. Judgement. */
const CALLED_BAD: Probability = 0.5;

/** What had its chance to show and was not reported; its links shrink to what the watching would have caught. */
function missing(
  network: FixtureNetwork,
  observations: readonly Observation[],
  reported: readonly Reported[],
  leaks: Leaks,
): Changes {
  const shown = new Set(reported.map(({ finding }) => finding.id));
  const still = new Set(
    reported.filter(({ symptom }) => standsStill(symptom)).map(({ finding }) => placeKey(finding.place)),
  );
  const bad = new Set(reported.flatMap(({ finding: { place } }) => (place === "fixture" ? [] : [place.key])));
  return findingsOf(network.parts).flatMap(({ id, place, what }): Changes => {
    if (
      shown.has(id) ||
      (still.has(placeKey(place)) && !isHeardStanding(what)) ||
      (place === "fixture" && belongsToMover(what))
    )
      return [];
    const chances = chancesOf(observations, place, what);
    if (chances.length === 0) return [];
    const silence = silenceOf(chances);
    const heard = [...alsoCalled(what)].some((word) => shown.has(findingAt(place, word).id))
      ? CALLED_OTHERWISE
      : bad.has(placeKey(place))
        ? CALLED_BAD
        : 1;
    const factor: Change["factor"] = (when, fault) =>
      place === "fixture" && showsAtItsMover(fault, what) ? 0 : silence(when) * heard;
    return [[id, { leak: leaks.get(id) ?? 0, factor }] as const];
  });
}

/** A mover's symptom is denied where it would have been reported: at the mover. */
const showsAtItsMover = (fault: string, symptom: Reported["symptom"]): boolean =>
  !isStranger(fault) && canShow(knownFault(fault as FaultId).mechanism, symptom) && belongsToMover(symptom);

const answered = (
  leaks: Leaks,
  answers: readonly InspectionAnswer[],
  kinds: readonly InspectionAnswer["answer"][],
): Changes => {
  const last = new Map(answers.map((one) => [`inspection/${one.inspection}`, one.answer]));
  return [...last].flatMap(([id, answer]): Changes => {
    const leak = leaks.get(id);
    if (leak === undefined || !kinds.includes(answer)) return [];
    const plain: Change = { leak, factor: () => 1 };
    return [[id, answer === "unsure" ? doubtful(plain) : plain] as const];
  });
};

/** So many symptoms are reckoned at once without keeping anybody waiting. */
const AT_ONCE = 16;

/** The evidence cut to its most telling symptoms when there are more than can be reckoned together; what goes is named by id. */
export function fewEnough(weighed: Weighed): { readonly weighed: Weighed; readonly leftOut: readonly string[] } {
  const { present } = weighed.evidence;
  if (present.length <= AT_ONCE) return { weighed, leftOut: [] };
  const ranked = present
    .map((id) => ({ id, telling: tellingOf(id, weighed) }))
    .sort((a, b) => b.telling - a.telling)
    .map(({ id }) => id);
  return {
    weighed: { ...weighed, evidence: { ...weighed.evidence, present: ranked.slice(0, AT_ONCE) } },
    leftOut: ranked.slice(AT_ONCE),
  };
}

const tellingOf = (id: string, { network }: Weighed): number => {
  const best = Math.max(
    0,
    ...network.faults.flatMap((fault) => effectsOf(fault).map(({ links }) => links.get(id) ?? 0)),
  );
  return best / (network.symptoms.find((symptom) => symptom.id === id)?.leak ?? 1);
};
