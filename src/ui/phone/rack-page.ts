import { placeInWords } from "../../data/rack/rack.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { spanInWords } from "../../reports/status-words.ts";
import { type Batch, memberAt } from "../../run/batch/batch.ts";
import { stepOf, turnOf } from "../../run/batch/flow.ts";
import { guardedBy } from "../../run/batch/guarded.ts";
import type { PhoneLine, PhonePage } from "../../run/phone/message.ts";
import type { Choice } from "../choices.ts";
import { fixtureKeys } from "../rack-keys.ts";
import { stateOf } from "../rack-states.ts";
import { toldNow } from "../rack-telling.ts";
import type { RackSight } from "../sight.ts";
import { leftOfStep } from "../time-words.ts";
import { ABOUT_LINE, capital } from "../view.ts";
import { guardedAnswer } from "./offers.ts";
import type { PhoneBody } from "./pages.ts";

/** All that the page shows of several fixtures. */
export const rackPage = (sight: RackSight, choices: readonly Choice[]): PhoneBody => {
  const { batch } = sight;
  const { stage, plan, trouble } = batch;
  const { headline, where } = toldNow(sight);
  const guarded = guardedBy(stage);
  return {
    moving: stage.kind === "moving" || stage.kind === "slow-start" ? "moves" : "stands",
    where: `${plan.opening.simulated ? "SIMULATED " : ""}${safeText(plan.title)}`,
    step: where,
    headline: capital(headline),
    lines: [
      ...(trouble && !ABOUT_LINE.includes(stage.kind) ? [{ text: safeText(trouble), look: "alert" } as const] : []),
      ...linesOf(sight),
    ],
    strips: [],
    ...buttonsOf(batch),
    guarded: guarded === undefined ? "" : safeText(guardedAnswer(guarded, guardedOf(batch))),
    answers: choices.map(({ words }) => ({ words: capital(words), look: "plain" })),
    fields: fieldsOf(sight),
  };
};

const buttonsOf = ({ stage, plan }: Batch): Pick<PhonePage, "press" | "again" | "stop"> => {
  const stop = stage.kind === "finished" || stage.kind === "opening" ? "" : "Stop it all";
  const again = AGAIN[stage.kind] ?? "";
  return { press: stage.kind === "moving" && plan.asks === "who-differs" ? "There: one of them" : "", again, stop };
};

const AGAIN: Partial<Record<Batch["stage"]["kind"], string>> = {
  moving: "Once more",
  "line-lost": "Continue without them",
  "other-interface": "The right one is plugged in",
};

/** Whom a guarded page would let move. */
const guardedOf = (batch: Batch): string => {
  const { stage } = batch;
  if ("next" in stage) return stage.next.members.map((index) => memberAt(batch, index).serial).join(", ");
  if (stage.kind === "own-address") return memberAt(batch, stage.member).serial;
  const [first] = stage.kind === "between" ? stage.odd : [];
  return first === undefined ? batch.plan.title : memberAt(batch, first).serial;
};

const fieldsOf = ({ batch, desk }: RackSight): PhoneBody["fields"] => {
  const { stage, person } = batch;
  const swap =
    stage.kind === "paused" && desk.picked !== undefined
      ? [{ what: "serial", words: "Serial number of the one that stands there now", by: "scan", text: "" } as const]
      : [];
  const mine =
    person === "" && (stage.kind === "holding" || stage.kind === "paused")
      ? [{ what: "person", words: "Your initials, for the record", by: "letters", text: "" } as const]
      : [];
  return [...swap, ...mine];
};

const named = (batch: Batch, index: number): string => {
  const { serial, place } = memberAt(batch, index);
  return `${safeText(serial)}, ${safeText(placeInWords(place))}`;
};

/** What can be touched, each with the key that gives it at a keyboard. */
export const rackAnswers = ({ batch, desk, plan }: RackSight): readonly Choice[] => {
  const { stage } = batch;
  const fixtures = () =>
    [...fixtureKeys(batch, desk.leafed, plan)].map(([index, key]) => ({
      words: `${named(batch, index)}: ${stateOf(batch, index)}`,
      keys: [key],
    }));
  switch (stage.kind) {
    case "moving":
      return [...fixtures(), { words: "that was another one: undo", keys: [plan.letters.undo] }];
    case "which":
      return [
        ...fixtures(),
        { words: stage.named.length === 0 ? "none of them" : "that is all, continue", keys: ["enter"] },
      ];
    case "confirming":
      return [
        { words: "I watched them, nothing else differed", keys: ["enter"] },
        { words: "I was not there", keys: [plan.letters.absent] },
      ];
    case "paused":
      return desk.picked === undefined
        ? fixtures()
        : [
            { words: `${named(batch, desk.picked)} is removed`, keys: [plan.press[0] ?? ""] },
            { words: "neither", keys: ["escape"] },
          ];
    case "own-address":
      return [{ words: "I unplugged the data of all others instead", keys: [plan.again[0] ?? ""] }];
    default:
      return [];
  }
};

const line = (text: string, look: PhoneLine["look"] = "plain"): PhoneLine => ({ text, look });

const linesOf = (sight: RackSight): readonly PhoneLine[] => {
  const { batch, frame } = sight;
  const { stage } = batch;
  if (stage.kind === "moving" || stage.kind === "slow-start") {
    const step = stepOf(batch, stage.next);
    const group = capital(safeText(turnOf(batch, stage.next).name));
    return stage.kind === "moving"
      ? [
          line(`${frame < step.leadIn ? "It moves to the start. " : ""}Watch for: ${safeText(step.watch)}.`, "strong"),
          line(`${group}, ${stage.next.members.length} together. ${spanInWords(leftOfStep(step, frame))} left.`),
          line(stage.unclaimed.length > 0 ? `Pressed ${stage.unclaimed.length}. You say which one after this.` : ""),
          line(stage.wanted ? "After this step: pause." : "", "strong"),
        ].filter(({ text }) => text !== "")
      : [line(`${group}: pan and tilt move a little, slowly and dark.`), line("Stand clear.", "strong")];
  }
  // What stands above a page's keys has none in it.
  return toldNow(sight).above.flatMap((one) => (one.kind === "words" ? [line(one.mark + one.text, one.look)] : []));
};
