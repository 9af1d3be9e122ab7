import { placeInWords } from "../../data/rack/rack.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { firstCharacters } from "../../domain/problem/writing.ts";
import { spanInWords } from "../../reports/span.ts";
import { type Batch, markedFor, memberAt, rackQuestionOf } from "../../run/batch/batch.ts";
import { stepOf, turnOf } from "../../run/batch/flow.ts";
import { guardedBy } from "../../run/batch/guarded.ts";
import type { RackInput } from "../../run/batch/input.ts";
import type { PhoneLine, PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import type { Spectacle } from "../../run/ports.ts";
import { READ_MS } from "../../run/session/fresh.ts";
import type { WatcherInput } from "../../run/session/input.ts";
import { CLEAR_RACK_DESK, type RackDesk } from "../desk.ts";
import { type KeyPlan, keyPlan } from "../key-plan.ts";
import { fixtureKeys } from "../rack-keys.ts";
import { rackPressed } from "../rack-pressing.ts";
import { stateOf } from "../rack-states.ts";
import { toldNow } from "../rack-telling.ts";
import type { RackDrawn, RackSight } from "../sight.ts";
import { leftOfStep } from "../time-words.ts";
import { ABOUT_LINE, capital } from "../view.ts";
import { PhoneAttendant, type PhoneOptions } from "./attendant.ts";
import { guardedAnswer } from "./offers.ts";
import { type PhoneAttends, type PhoneBody, PhonePages, type Touched } from "./pages.ts";

type Sees = readonly (Spectacle | undefined)[];

export const rackPhoneAttendant = (options: PhoneOptions<Sees>): PhoneAttends<Batch, RackInput> =>
  new RackPhoneAttendant(options);

interface Moment {
  readonly drawn: RackDrawn;
  readonly choices: readonly RackChoice[];
}

/** An answer, and the key that gives it at a keyboard, or a page of the list that it opens. */
interface RackChoice {
  readonly words: string;
  readonly key: string;
}

/** Attends to a rack from a phone: a name for every fixture that moves; one that is looked at alone as on any bench. */
export class RackPhoneAttendant implements PhoneAttends<Batch, RackInput> {
  private readonly options: PhoneOptions<Sees>;
  private readonly plan: KeyPlan;
  private readonly single: PhoneAttendant;
  private readonly pages = new PhonePages<Moment>();
  private batch: Batch | undefined;
  private desk: RackDesk = CLEAR_RACK_DESK;
  private asked: string | undefined;

  constructor(options: PhoneOptions<Sees>) {
    this.options = options;
    this.plan = keyPlan(options.buttons);
    const { spectacle } = options;
    this.single = new PhoneAttendant({ ...options, spectacle: spectacle && (() => this.alone(spectacle())) });
  }

  show(batch: Batch): void {
    this.batch = batch;
    const question = rackQuestionOf(batch);
    if (question !== this.asked) this.desk = CLEAR_RACK_DESK;
    this.asked = question;
    if (batch.stage.kind === "alone") this.single.show(memberAt(batch, batch.stage.member).session);
  }

  page(): PhonePage | undefined {
    const { batch } = this;
    if (!batch) return undefined;
    if (batch.stage.kind === "alone") {
      const page = this.single.page();
      return page && { ...page, drawn: SINGLE + page.drawn };
    }
    const drawn: RackDrawn = { batch, question: rackQuestionOf(batch) };
    const sight = this.sight(batch);
    const choices = choicesAt(sight);
    return this.pages.put({ drawn, choices }, bodyOf(sight, choices), drawn.question, this.options.now());
  }

  hear(said: PhoneSaid, at: number): readonly RackInput[] {
    const { batch } = this;
    if (!batch) return [];
    if (batch.stage.kind === "alone" || said.drawn > SINGLE)
      return this.ofOne(batch, this.single.hear({ ...said, drawn: said.drawn - SINGLE }, at));
    if (said.kind === "here") return [HERE];
    if (said.kind === "stop") return [{ kind: "stop" }];
    const page = this.pages.at(said.drawn);
    if (!page) return [HERE];
    const { drawn } = page.moment;
    if (said.kind === "press") return this.keyed(this.plan.press[0], drawn);
    if (said.kind === "again") return this.keyed(this.plan.again[0], drawn);
    const moves = drawn.batch.stage.kind === "moving";
    // A fixture that moves is named as quickly as a key would be; everything else wants to be read first.
    if (!moves && at - page.since < READ_MS) return [HERE];
    return said.kind === "fill" ? this.filled(said, drawn) : this.answered(said, page.moment);
  }

  photo(drawn: number, file: string): readonly RackInput[] {
    const { batch } = this;
    return batch?.stage.kind === "alone" ? this.ofOne(batch, this.single.photo(drawn - SINGLE, file)) : [];
  }

  gone(): readonly RackInput[] {
    const { batch } = this;
    if (!batch) return [];
    if (batch.stage.kind === "alone") return this.ofOne(batch, this.single.gone());
    const { stage } = batch;
    return stage.kind === "moving" && !stage.wanted ? [{ kind: "away", answers: rackQuestionOf(batch) ?? "" }] : [];
  }

  private answered(said: Touched, { drawn, choices }: Moment): readonly RackInput[] {
    const guarded = guardedBy(drawn.batch.stage);
    if (said.kind === "guarded") return guarded ? this.keyed(this.plan.own[guarded], drawn) : [HERE];
    return this.keyed(choices[said.choice]?.key, drawn);
  }

  private filled({ what, text }: Extract<PhoneSaid, { kind: "fill" }>, { question }: RackDrawn): readonly RackInput[] {
    if (what === "person") return [{ kind: "person", initials: firstCharacters(text, 8) }];
    const { picked } = this.desk;
    if (what !== "serial" || picked === undefined) return [HERE];
    return [{ kind: "swap", answers: question ?? "", member: picked, serial: firstCharacters(text, 40) }];
  }

  private keyed(key: string | undefined, drawn: RackDrawn): readonly RackInput[] {
    if (key === undefined) return [HERE];
    const [desk, inputs] = rackPressed(this.desk, key, drawn, this.plan);
    this.desk = { ...desk, entry: undefined };
    return inputs;
  }

  private ofOne(batch: Batch, inputs: readonly WatcherInput[]): readonly RackInput[] {
    if (batch.stage.kind !== "alone") return [];
    const { run } = memberAt(batch, batch.stage.member);
    return inputs.map((input) => markedFor(run, input));
  }

  private alone(all: Sees): Spectacle {
    const { batch } = this;
    const shown = batch?.stage.kind === "alone" ? all[batch.stage.member] : undefined;
    return shown ?? { parts: [], sounds: [], light: "dark", display: "" };
  }

  private sight(batch: Batch): RackSight {
    const { spectacle, frame } = this.options;
    return {
      batch,
      desk: this.desk,
      plan: this.plan,
      frame: frame(),
      seen: spectacle?.() ?? [],
      quiet: 0,
      listening: true,
      refused: undefined,
      notice: undefined,
      size: { columns: 80, rows: 24 },
      letters: "usual",
    };
  }
}

const HERE: RackInput = { kind: "here" };
/** Pages of a fixture alone are numbered from here. */
const SINGLE = 500_000;

const bodyOf = (sight: RackSight, choices: readonly RackChoice[]): PhoneBody => {
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

const choicesAt = ({ batch, desk, plan }: RackSight): readonly RackChoice[] => {
  const { stage } = batch;
  const fixtures = () =>
    [...fixtureKeys(batch, desk.leafed, plan)].map(([index, key]) => ({
      words: `${named(batch, index)}: ${stateOf(batch, index)}`,
      key,
    }));
  switch (stage.kind) {
    case "moving":
      return [...fixtures(), { words: "that was another one: undo", key: plan.letters.undo }];
    case "which":
      return [
        ...fixtures(),
        { words: stage.named.length === 0 ? "none of them" : "that is all, continue", key: "enter" },
      ];
    case "confirming":
      return [
        { words: "I watched them, nothing else differed", key: "enter" },
        { words: "I was not there", key: plan.letters.absent },
      ];
    case "paused":
      return desk.picked === undefined
        ? fixtures()
        : [
            { words: `${named(batch, desk.picked)} is removed`, key: plan.press[0] ?? "" },
            { words: "neither", key: "escape" },
          ];
    case "own-address":
      return [{ words: "I unplugged the data of all others instead", key: plan.again[0] ?? "" }];
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
