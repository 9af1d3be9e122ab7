import { fittedOf } from "../../data/profile/profile.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { recordFrom } from "../../domain/keys.ts";
import type { ProfileOf } from "../events/digest.ts";
import type { BodyOf, RunEvent } from "../events/event.ts";
import { closingDue } from "./by-hand-rules.ts";
import { againstPower } from "./dangers.ts";
import { eventsIn, type FixtureEvent, type History, historyOf, sinceKindChanged } from "./history.ts";
import { FULL, reasonsAtLevel } from "./levels.ts";
import { type Reason, type RuleId, reasonsAgainst } from "./rules.ts";

/** Where a fixture stands between truck and shelf, over all its runs. */
export interface ReleaseStatus {
  readonly state: StateId;
  /** Everything that blocks its release; empty when it is ready, or only the signature is missing. */
  readonly reasons: readonly Reason[];
  /** Who signed, when it is ready. */
  readonly signed: string | undefined;
  /** At which level, when it is ready: "full", or one of the shop's own. */
  readonly level: string | undefined;
}

/** What a person may do with a fixture just now, and why. */
export type Verdict =
  | { readonly kind: "do-not-use"; readonly because: readonly string[] }
  | { readonly kind: "needs-work"; readonly because: readonly string[] }
  /** Repaired, or passed once after it failed: what is to be played again. */
  | { readonly kind: "retest"; readonly because: readonly string[] }
  /** Nothing wrong is known; what is still to be done before it is signed. */
  | { readonly kind: "not-released"; readonly because: readonly string[] }
  | { readonly kind: "released"; readonly by: string; readonly level: string; readonly because: readonly [] };

type Unreleased = Exclude<Verdict["kind"], "released">;

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
} as const satisfies Readonly<Record<RuleId, Unreleased>>;
const HEAVIEST_FIRST = ["do-not-use", "needs-work", "retest", "not-released"] as const;

/** In capitals on a label, so short that it fits there. */
export const VERDICT_WORDS = {
  "do-not-use": "do not use",
  "needs-work": "needs work",
  retest: "retest",
  "not-released": "not released yet",
  released: "released",
} as const satisfies Readonly<Record<Verdict["kind"], string>>;

interface State {
  readonly id: StateId;
  readonly words: string;
  readonly holds: (facts: Facts) => boolean;
}
/** Where its work stands; else what the verdict says of it. */
export type StateId = "blocked" | "open" | "held-back" | "in-work" | "to-sign" | "to-replay" | Unreleased | "ready";

interface Facts {
  readonly history: History;
  readonly reasons: readonly Reason[];
}
const only = ({ reasons }: Facts, ...rules: readonly RuleId[]) => reasons.every(({ rule }) => rules.includes(rule));
const any = ({ reasons }: Facts, ...rules: readonly RuleId[]) => reasons.some(({ rule }) => rules.includes(rule));

/** The first that holds; a fixture is ready only through its signature, never by this table. */
export const STATES: readonly State[] = [
  {
    id: "blocked",
    words: "locked out: no power before it is repaired",
    holds: ({ history }) => againstPower(history).length > 0,
  },
  { id: "open", words: "isolated and open", holds: ({ history }) => closingDue(history).length > 0 },
  { id: "held-back", words: "held back", holds: (facts) => any(facts, "held-back") },
  { id: "in-work", words: "in work", holds: (facts) => any(facts, "over") },
  { id: "to-sign", words: "waits for a signature", holds: (facts) => only(facts) },
  {
    id: "to-replay",
    words: "repaired, to be tested again",
    holds: (facts) =>
      eventsIn(facts.history, "repaired").length > 0 && only(facts, "failed", "disturbed", "passed-enough"),
  },
  ...HEAVIEST_FIRST.map((id) => ({
    id,
    words: VERDICT_WORDS[id],
    holds: ({ reasons }: Facts) => reasons.some(({ rule }) => WEIGHTS[rule] === id),
  })),
];
export const STATE_WORDS: Readonly<Record<StateId, string>> = {
  ...recordFrom(STATES.map(({ id, words }) => [id, words] as const)),
  ready: "released",
};

/**
 * The status of the fixture after all of this. A signature counts when nothing blocked the release; whatever is
 * written afterwards opens the matter again.
 */
export const releaseStatusOf = (history: History, fitted: readonly Fitted[]): ReleaseStatus => {
  const { episode, signed } = sinceRelease(history, fitted);
  if (signed !== undefined)
    return { state: "ready", reasons: [], signed: signed.initials, level: signed.level?.name ?? FULL };
  const facts = { history: episode, reasons: reasonsAgainst(episode, fitted) };
  const state = STATES.find(({ holds }) => holds(facts));
  if (!state) throw new Error("Bug: no state holds");
  return { state: state.id, reasons: facts.reasons, signed: undefined, level: undefined };
};

/** What was written since the last signature that counts; and that signature, where nothing was written after it. */
export const sinceRelease = <T extends FixtureEvent>(
  history: readonly T[],
  fitted: readonly Fitted[],
): { readonly episode: readonly T[]; readonly signed: BodyOf<"signed-off"> | undefined } => {
  let episode: T[] = [];
  let signed: BodyOf<"signed-off"> | undefined;
  for (const told of history) {
    if (told.body.kind !== "signed-off") {
      episode.push(told);
      signed = undefined;
    } else if (
      signed === undefined &&
      reasonsAtLevel([...episode], fitted, told.body.level?.due ?? FULL).length === 0
    ) {
      episode = [];
      signed = told.body;
    }
  }
  return { episode, signed };
};

/** Where every fixture that has a serial number stands, by the key of that number (`identityKey`): one fixture, however it was spelt. */
export type ReleaseStatuses = ReadonlyMap<string, ReleaseStatus>;

/** The release status of a fixture by the rules of release, from all events of its runs in the order of writing. */
export const standingIn = (events: readonly RunEvent[], serial: string, profileOf: ProfileOf): ReleaseStatus => {
  const history = historyOf(events, serial);
  const fitted = everFitted(history, profileOf);
  return fitted ? releaseStatusOf(history, fitted) : UNREADABLE;
};

/**
 * All that a fixture has, by the profiles of all its runs since it became this kind: a run with a small profile does not make
 * the rest untested for ever. Undefined where the profile of its last run cannot be read.
 */
export const everFitted = (history: History, profileOf: ProfileOf): readonly Fitted[] | undefined => {
  const openings = sinceKindChanged(history).flatMap(({ body }) => (body.kind === "run-opened" ? [body.profile] : []));
  const profiles = openings.map(profileOf);
  if (!profiles.at(-1)) return undefined;
  const all = profiles.flatMap((profile) => (profile ? fittedOf(profile) : []));
  return [...new Map(all.map((one) => [one.function, one])).values()];
};

const UNREADABLE: ReleaseStatus = {
  state: "not-released",
  reasons: [{ rule: "tested", words: "the profile of its last run cannot be read any more" }],
  signed: undefined,
  level: undefined,
};

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
