import type { Weighed } from "./evidence.ts";
import type { NetworkSymptom } from "./network-shape.ts";
import { sayFinding } from "./reasons.ts";

/** So many symptoms are reckoned at once without keeping anybody waiting. */
const AT_ONCE = 16;

/** The evidence cut to its most telling symptoms when there are more than can be reckoned together; what goes is named. */
export function fewEnough(weighed: Weighed): { readonly weighed: Weighed; readonly leftOut: readonly string[] } {
  const { present } = weighed.evidence;
  if (present.length <= AT_ONCE) return { weighed, leftOut: [] };
  const symptoms = new Map(weighed.network.symptoms.map((symptom) => [symptom.id, symptom]));
  const ranked = [...present].sort((a, b) => telling(symptoms.get(b)) - telling(symptoms.get(a)));
  return {
    weighed: { ...weighed, evidence: { ...weighed.evidence, present: ranked.slice(0, AT_ONCE) } },
    leftOut: ranked.slice(AT_ONCE).map((id) => sayFinding(id, weighed)),
  };
}

const telling = (symptom: NetworkSymptom | undefined): number =>
  symptom ? Math.max(0, ...Object.values(symptom.links)) / symptom.leak : 0;
