import type { Fitted } from "../../diagnosis/model/places.ts";
import { recordFrom } from "../../domain/keys.ts";
import type { BodyOf } from "../events/event.ts";
import { againstPower } from "./dangers.ts";
import type { FixtureEvent, History } from "./history.ts";
import { closingDue } from "./hold-rules.ts";
import { FULL, reasonsAtLevel } from "./levels.ts";
import { eventsIn } from "./moment.ts";
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

interface State {
  readonly id: StateId;
  readonly words: string;
  readonly holds: (facts: Facts) => boolean;
}
export type StateId = "blocked" | "open" | "held-back" | "in-work" | "to-sign" | "to-replay" | "not-released" | "ready";

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
  { id: "not-released", words: "not released yet", holds: () => true },
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
