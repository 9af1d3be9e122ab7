import type { Buttons } from "../../data/bench/bench.ts";
import { firstCharacters } from "../../domain/problem/shown-text.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import { type Batch, lookedAtAlone, rackQuestionOf } from "../../run/batch/batch.ts";
import { guardedBy, READ_MS } from "../../run/batch/guarded.ts";
import type { OnItsWay, RackInput } from "../../run/machine/input.ts";
import type { PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import type { Spectacle } from "../../run/ports.ts";
import { type KeyPlan, keyPlan } from "../key-plan.ts";
import { pressed } from "../pressing.ts";
import { look, type Seen } from "../seen.ts";
import { clearDesk, type Desk, type Drawn, deskFor, HERE, type Sight, stageIn } from "../sight.ts";
import type { Choice } from "../view.ts";
import { phoneAnswers } from "./offers.ts";
import { PhonePages, phonePage, type Touched } from "./page.ts";

/** What the page on a phone needs to know of the bench. */
export interface PhoneOptions {
  readonly buttons: Buttons;
  readonly frame: () => Frame;
  /** What simulated fixtures show, in the order of the rack; undefined on a real bench. */
  readonly spectacle: (() => readonly (Spectacle | undefined)[]) | undefined;
  /** Milliseconds, as what is touched is stamped. */
  readonly now: () => number;
}

/** A page as it was shown: what a touch on it answers, and the desk that its list was made for. */
interface OfferedPage {
  readonly drawn: Drawn;
  readonly desk: Desk;
  readonly choices: readonly Choice[];
}

/**
 * Stands between what is published and a phone: makes its page, and turns touches into the answers that keys would give. While
 * several move there is a name for each.
 */
export class PhoneAttendant {
  private readonly options: PhoneOptions;
  private readonly plan: KeyPlan;
  private readonly pages = new PhonePages<OfferedPage>();
  private batch: Batch | undefined;
  private desk: Desk = clearDesk(undefined);
  private shown: readonly (Seen | undefined)[] = [];

  constructor(options: PhoneOptions) {
    this.options = options;
    this.plan = keyPlan(options.buttons);
  }

  /** Takes in the state of the run that is to be shown next. */
  show(batch: Batch): void {
    this.batch = batch;
    this.desk = deskFor(this.desk, rackQuestionOf(batch));
  }

  /** The page as it is now; undefined while nothing was published. */
  page(): PhonePage | undefined {
    const { batch, desk, plan } = this;
    if (!batch) return undefined;
    const drawn: Drawn = { batch, question: rackQuestionOf(batch) };
    const choices = phoneAnswers(batch, desk, plan);
    const body = phonePage(this.sight(batch), choices);
    return this.pages.put({ drawn, desk, choices }, body, drawn.question, this.options.now());
  }

  /** Something touched at a moment, in milliseconds, as what the run is told. */
  hear(said: PhoneSaid, at: number): readonly RackInput[] {
    const { batch } = this;
    if (!batch) return [];
    if (said.kind === "here") return [HERE];
    // Stopping means what stands there now, whatever the phone still showed.
    if (said.kind === "stop") return this.keyed(this.plan.stop, { batch, question: rackQuestionOf(batch) });
    const page = this.pages.at(said.drawn);
    if (!page) return [HERE];
    const { drawn } = page.moment;
    if (said.kind === "press") return this.keyed(this.plan.press, drawn);
    if (said.kind === "again") return this.keyed(this.plan.again, drawn);
    // A fixture that moves among others is named as quickly as a key would be; everything else wants to be read first.
    if (drawn.batch.stage.kind !== "moving" && at - page.since < READ_MS) return [HERE];
    return said.kind === "fill" ? this.filled(said, drawn) : this.answered(said, page.moment);
  }

  /**
   * What the run is told of a photo that was kept as `file`; it is of a fixture that is looked at alone. `drawn` is the
   * number of the page that it answers, from 1.
   */
  photo(drawn: number, file: string): readonly RackInput[] {
    const shown = this.pages.at(drawn)?.moment.drawn;
    const isOfOne = shown !== undefined && lookedAtAlone(shown.batch) !== undefined;
    return shown?.question === undefined || !isOfOne ? [] : [{ kind: "photo", answers: shown.question, file }];
  }

  /** The phone cannot be heard any more: what moves stands still, as when somebody leaves. */
  gone(): readonly RackInput[] {
    const { batch } = this;
    if (!batch) return [];
    const answers = rackQuestionOf(batch) ?? "";
    const { stage } = batch;
    const own = lookedAtAlone(batch)?.session.stage.kind;
    if (own === "at-spot") return [{ kind: "confirm", answers }];
    if (own === "moving" || (stage.kind === "moving" && !stage.wanted)) return [{ kind: "away", answers }];
    return [];
  }

  private answered(said: Touched, { drawn, desk, choices }: OfferedPage): readonly RackInput[] {
    const guarded = guardedBy(stageIn(drawn.batch));
    if (said.kind === "guarded") return guarded ? this.keyed([this.plan.own[guarded]], drawn) : [HERE];
    const choice = choices[said.choice];
    if (!choice) return [HERE];
    // What was touched stood on the list that was shown then.
    this.desk = desk;
    return choice.keys.flatMap((key) => this.keyed([key], drawn));
  }

  private filled({ what, text }: Filled, { batch, question }: Drawn): readonly RackInput[] {
    const answers = question ?? "";
    if (what === "person") return [{ kind: "person", initials: firstCharacters(text, 8) }];
    if (what === "serial") {
      const { picked } = this.desk;
      return picked === undefined || lookedAtAlone(batch)
        ? [HERE]
        : [{ kind: "swap", answers, member: picked, serial: firstCharacters(text, 40) }];
    }
    if (!lookedAtAlone(batch)) return [HERE];
    if (what === "note") return [{ kind: "note", answers, text }];
    const field = FILLED.find((one) => one === what);
    return field ? [{ kind: "filled", answers, what: field, text }] : [HERE];
  }

  /** What the key of that name would say to what was drawn; the phone marks nothing and types nothing key by key. */
  private keyed([key = ""]: readonly string[], drawn: Drawn): readonly RackInput[] {
    const [desk, inputs] = pressed({ ...this.desk, mark: undefined }, key, drawn, this.plan);
    this.desk = { ...desk, mark: undefined, entry: undefined };
    return inputs;
  }

  /** Of a phone that draws what is drawn, and whose keys are never refused here. */
  private sight(batch: Batch): Sight {
    const { desk, options, plan } = this;
    const at = options.now();
    this.shown = options.spectacle?.().map((shown, index) => shown && look(this.shown[index], shown, at)) ?? [];
    return {
      batch,
      desk,
      plan,
      frame: options.frame(),
      shown: this.shown,
      at,
      sincePress: Number.POSITIVE_INFINITY,
      quiet: 0,
      listening: true,
      refused: undefined,
      notice: undefined,
      size: { columns: 80, rows: 24 },
      letters: "usual",
    };
  }
}

type Filled = Extract<PhoneSaid, { kind: "fill" }>;
const FILLED = ["value", "part", "minutes", "initials"] as const;

/**
 * What an input carries of how it came: a press counts when it was made; undefined for
 * everything else, which counts when it is heard.
 */
export const wayOf = (input: { readonly kind: string }, ago: Seconds, give: Seconds): OnItsWay | undefined =>
  input.kind === "press" || input.kind === "differs" ? { ago, give } : undefined;
