import type { Probability } from "../../domain/units.ts";
import { chancesOf, isHeardStanding, silenceOf, standsStill } from "./exposure.ts";
import { type FaultId, knownFault } from "./knowledge/faults.ts";
import { alsoCalled } from "./knowledge/neighbouring-words.ts";
import { type Evidence, effectsOf, type LayeredNetwork, withLinks } from "./layers.ts";
import { type FixtureNetwork, isStranger, networkFor } from "./network.ts";
import { inspectionNode, type NodeId } from "./node.ts";
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
import { type Learned, NOTHING_LEARNED, withHistory } from "./shop.ts";
import {
  conditionOf,
  doubtful,
  type NodeChange,
  type NodeChanges,
  type NodeLeaks,
  presentChanges,
  type Reported,
  reportsOf,
  unsureOf,
} from "./signs.ts";
import { UNNAMED_LEAK, unnamedTroubles, withLooseWords, withRepeatedTrouble, withUnnamed } from "./unforeseen.ts";

/** The network of this fixture with the watching worked into its links, and what speaks for and against its faults. */
export interface Weighed {
  readonly network: LayeredNetwork;
  /** The same without the words that nobody foresaw: by it is said what explains what. */
  readonly foreseen: LayeredNetwork;
  readonly evidence: Evidence;
  readonly parts: readonly MovingPart[];
  /** Everything that can be reported, by the id of its finding; steps that failed without a word are there too. */
  readonly findings: ReadonlyMap<NodeId, Finding>;
  readonly reported: readonly Reported[];
  /** Inspections that left somebody unsure. */
  readonly doubtful: ReadonlySet<NodeId>;
}

/**
 * From what was watched and looked at to evidence. A pass speaks against a symptom only as far as that routine on that
 * part could have shown it and that watcher would have caught it; a symptom reported anywhere is there.
 * Kept until another is asked for: a ranking and its advice are made of the same evidence, one after the other.
 */
export function evidenceFrom(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  answers: readonly InspectionAnswer[],
  learned: Learned = NOTHING_LEARNED,
): Weighed {
  const seen: EvidenceArguments = [fitted, observations, answers, learned];
  if (last?.seen.every((one, index) => one === seen[index])) return last.weighed;
  const weighed = weighedFrom(...seen);
  last = { seen, weighed };
  return weighed;
}

type EvidenceArguments = readonly [readonly Fitted[], readonly Observation[], readonly InspectionAnswer[], Learned];
let last: { readonly seen: EvidenceArguments; readonly weighed: Weighed } | undefined;

function weighedFrom(...[fitted, observations, answers, learned]: EvidenceArguments): Weighed {
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
  const said = withLooseWords(
    withRepeatedTrouble(foreseen, reported),
    reported.map(({ finding }) => finding),
  );
  const plain = changed(foreseen, changes);
  return {
    network: said === foreseen ? plain : changed(said, changes),
    foreseen: plain,
    evidence: { present: present.map(([id]) => id), absent: absent.map(([id]) => id) },
    parts: base.parts,
    findings: new Map(
      [...findingsOf(base.parts), ...unnamed.map(({ finding }) => finding)].map((one) => [one.id, one]),
    ),
    reported,
    doubtful: new Set(answered(leaks, answers, ["unsure"]).map(([id]) => id)),
  };
}

function changed(network: LayeredNetwork, changes: ReadonlyMap<NodeId, NodeChange>): LayeredNetwork {
  return {
    faults: network.faults.map((fault) =>
      withLinks(fault, (link, id) => {
        const factor = changes.get(id)?.factor;
        return factor ? Math.min(1, link * factor(conditionOf(fault.id, id), fault.id)) : link;
      }),
    ),
    symptoms: network.symptoms.map((symptom) => ({
      id: symptom.id,
      leak: changes.get(symptom.id)?.leak ?? symptom.leak,
    })),
  };
}

const PLAIN: NodeChange = { leak: UNNAMED_LEAK, factor: () => 1 };
const UNNAMED = { failed: PLAIN, doubted: doubtful(PLAIN) } as const;

/** Where something was called by a neighbouring word, the word that was not used is hardly a silence. Judgement. */
const CALLED_OTHERWISE: Probability = 0.25;
/** Who has called a part bad once does not list everything else about it. Judgement. */
const CALLED_BAD: Probability = 0.5;

/** What had its chance to show and was not reported; its links shrink to what the watching would have caught. */
function missing(
  network: FixtureNetwork,
  observations: readonly Observation[],
  reported: readonly Reported[],
  leaks: NodeLeaks,
): NodeChanges {
  const shown = new Set(reported.map(({ finding }) => finding.id));
  const still = new Set(
    reported.filter(({ symptom }) => standsStill(symptom)).map(({ finding }) => placeKey(finding.place)),
  );
  const bad = new Set(reported.flatMap(({ finding: { place } }) => (place === "fixture" ? [] : [place.key])));
  return findingsOf(network.parts).flatMap(({ id, place, what }): NodeChanges => {
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
    const factor: NodeChange["factor"] = (when, fault) =>
      place === "fixture" && showsAtItsMover(fault, what) ? 0 : silence(when) * heard;
    return [[id, { leak: leaks.get(id) ?? 0, factor }] as const];
  });
}

/** A mover's symptom is denied where it would have been reported: at the mover. */
const showsAtItsMover = (fault: string, symptom: Reported["symptom"]): boolean =>
  !isStranger(fault) && canShow(knownFault(fault as FaultId).mechanism, symptom) && belongsToMover(symptom);

const answered = (
  leaks: NodeLeaks,
  answers: readonly InspectionAnswer[],
  kinds: readonly InspectionAnswer["answer"][],
): NodeChanges => {
  const last = new Map(answers.map((one) => [inspectionNode(one.inspection), one.answer]));
  return [...last].flatMap(([id, answer]): NodeChanges => {
    const leak = leaks.get(id);
    if (leak === undefined || !kinds.includes(answer)) return [];
    const plain: NodeChange = { leak, factor: () => 1 };
    return [[id, answer === "unsure" ? unsureOf(plain) : plain] as const];
  });
};

/** How many symptoms can be calculated at once without keeping anybody waiting. */
const AT_ONCE = 16;

/** The evidence cut to its most telling symptoms when there are more than can be calculated together; what goes is named by id. */
export function fewEnough(weighed: Weighed): { readonly weighed: Weighed; readonly leftOut: readonly NodeId[] } {
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

const tellingOf = (id: NodeId, { network }: Weighed): number => {
  const best = Math.max(
    0,
    ...network.faults.flatMap((fault) => effectsOf(fault).map(({ links }) => links.get(id) ?? 0)),
  );
  return best / (network.symptoms.find((symptom) => symptom.id === id)?.leak ?? 1);
};
