import { FULL } from "./levels.ts";
import type { ReleaseStatus } from "./release-status.ts";
import type { RuleId } from "./rules.ts";

/** What a person may do with a fixture just now, and why. */
export type Verdict =
  | { readonly kind: "do-not-use"; readonly because: readonly string[] }
  | { readonly kind: "needs-work"; readonly because: readonly string[] }
  /** Repaired, or passed once after it failed: what is to be played again. */
  | { readonly kind: "retest"; readonly because: readonly string[] }
  /** Nothing wrong is known; what is still to be done before it is signed. */
  | { readonly kind: "not-released"; readonly because: readonly string[] }
  | { readonly kind: "released"; readonly by: string; readonly level: string; readonly because: readonly [] };

/** What a rule with something open says of the fixture; the heaviest decides. */
const WEIGHTS = {
  danger: "do-not-use",
  "held-back": "do-not-use",
  bad: "needs-work",
  failed: "needs-work",
  repaired: "needs-work",
  disturbed: "retest",
  "passed-enough": "retest",
  named: "not-released",
  over: "not-released",
  tested: "not-released",
  pressed: "not-released",
  looked: "not-released",
  cleaned: "not-released",
  held: "not-released",
  measured: "not-released",
} as const satisfies Readonly<Record<RuleId, Exclude<Verdict["kind"], "released">>>;
const HEAVIEST_FIRST = ["do-not-use", "needs-work", "retest", "not-released"] as const;

/**
 * The one answer that sheet, page, label, history and stock print first. `because` holds the reasons of that weight,
 * those of the lighter ones after them.
 */
export const verdictOf = ({ state, reasons, signed, level = FULL }: ReleaseStatus): Verdict => {
  if (signed !== undefined) return { kind: "released", by: signed, level, because: [] };
  const weightOf = (rule: RuleId) => (rule === "failed" && state === "to-replay" ? "retest" : WEIGHTS[rule]);
  const because = HEAVIEST_FIRST.map((weight) => reasons.filter(({ rule }) => weightOf(rule) === weight));
  const kind = HEAVIEST_FIRST.find((_, index) => (because[index] ?? []).length > 0) ?? "not-released";
  return { kind, because: because.flat().map(({ words }) => words) };
};

/** In capitals on a label, so short that it fits there. */
export const VERDICT_WORDS = {
  "do-not-use": "do not use",
  "needs-work": "needs work",
  retest: "retest",
  "not-released": "not released yet",
  released: "released",
} as const satisfies Readonly<Record<Verdict["kind"], string>>;

/**
 * The verdict in words: "Do not use: capacitor in the base bulged", "Released by KM", "Not
 * released yet: waits for a signature".
 */
export const verdictInWords = (verdict: Verdict): string => {
  if (verdict.kind === "released") return `Released at level ${verdict.level} by ${verdict.by}`;
  const [first = "waits for a signature", ...others] = verdict.because;
  const words = VERDICT_WORDS[verdict.kind];
  const more = others.length > 0 ? `, and ${others.length} more` : "";
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${first}${more}`;
};
