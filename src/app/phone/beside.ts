import { type PhoneDoor, type PhoneEvent, systemNow } from "../../io/phone/thread.ts";
import type { Batch } from "../../run/batch/batch.ts";
import type { OnItsWay, RackInput } from "../../run/machine/input.ts";
import type { PhoneField, PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import type { Screen } from "../../ui/attendant.ts";
import { type PhoneAttendant, wayOf } from "../../ui/phone/attendant.ts";
import { directedPage } from "../../ui/phone/page.ts";
import { capital } from "../../ui/view.ts";

/** How often the page is made again, whatever happens: what moves is drawn ten times a second. */
const LOOK_MS = 100;
/** Pages of one run are told apart from those of the next by their numbers. */
const RUN_NUMBERS = 1_000_000;

/** Whoever makes pages for the phone just now. */
type Maker = Pick<PhoneAttendant, "page"> & {
  hear(said: PhoneSaid, at: number, give: number): void;
  photo(drawn: number, file: string): void;
  lost(): void;
  back(): void;
};

/** Phones that are paired, through all runs of one command. */
export class Phone {
  /** The clock by which touches are stamped. */
  readonly now = systemNow;
  private readonly door: PhoneDoor;
  private maker: Maker | undefined;
  private base = 0;
  private shown = "";
  private readonly timer: NodeJS.Timeout;

  constructor(door: PhoneDoor) {
    this.door = door;
    door.listen((event) => this.heard(event));
    this.timer = setInterval(() => this.look(), LOOK_MS);
  }

  /** Shows a run on the phone and on the screen: either answers. */
  beside(screen: Screen, attends: PhoneAttendant): Screen {
    const pair = new BesideScreen(screen, attends, () => this.look());
    this.serve(pair);
    return pair;
  }

  /** Asks a question between two runs that the terminal asks too. Whoever answers first has answered. */
  ask(question: PhoneQuestion): { readonly answer: Promise<string>; readonly over: () => void } {
    const between = new BetweenRuns(question);
    this.serve(between);
    return { answer: between.answer, over: () => this.serve(undefined) };
  }

  /** Ends the service for phones. */
  async close(): Promise<void> {
    clearInterval(this.timer);
    await this.door.close();
  }

  private serve(maker: Maker | undefined): void {
    this.base += RUN_NUMBERS;
    this.maker = maker;
    this.look();
  }

  private look(): void {
    const page = this.maker?.page();
    if (page) this.put(directedPage({ ...page, drawn: this.base + page.drawn }));
  }

  private put(page: PhonePage): void {
    const text = JSON.stringify(page);
    if (text === this.shown) return;
    this.shown = text;
    this.door.order({ kind: "show", page });
  }

  private heard(event: PhoneEvent): void {
    const { maker, base } = this;
    if (!maker) return;
    if (event.kind === "said") maker.hear({ ...event.said, drawn: event.said.drawn - base }, event.at, event.give);
    else if (event.kind === "photo") maker.photo(event.drawn - base, event.file);
    else if (event.kind === "lost") maker.lost();
    else if (event.kind === "back") maker.back();
    this.look();
  }
}

/** A screen and a phone over one run. */
class BesideScreen implements Screen, Maker {
  private readonly screen: Screen;
  private readonly attends: PhoneAttendant;
  private readonly changed: () => void;
  private answer: (input: RackInput, way?: OnItsWay) => void = () => {};

  constructor(screen: Screen, attends: PhoneAttendant, changed: () => void) {
    this.screen = screen;
    this.attends = attends;
    this.changed = changed;
  }

  listen(answer: (input: RackInput, way?: OnItsWay) => void): void {
    this.answer = answer;
    this.screen.listen(answer);
  }

  show(batch: Batch): void {
    this.attends.show(batch);
    this.screen.show(batch);
    setImmediate(this.changed);
  }

  notice(words: string): void {
    this.screen.notice(words);
  }

  close(): void {
    this.screen.close();
  }

  page(): PhonePage | undefined {
    return this.attends.page();
  }

  hear(said: PhoneSaid, at: number, give: number): void {
    const ago = Math.max(0, systemNow() - at) / 1000;
    for (const input of this.attends.hear(said, at)) this.answer(input, wayOf(input, ago, give / 1000));
  }

  photo(drawn: number, file: string): void {
    for (const input of this.attends.photo(drawn, file)) this.answer(input);
  }

  lost(): void {
    this.screen.notice("The phone cannot be reached. What moved stands still until somebody goes on.");
    for (const input of this.attends.gone()) this.answer(input);
  }

  back(): void {
    this.screen.notice("The phone is back.");
  }
}

/** What the terminal asks between two runs, for a phone: each answer is the line that would be typed. */
export interface PhoneQuestion {
  readonly headline: string;
  readonly lines: readonly string[];
  readonly answers: readonly { readonly words: string; readonly line: string }[];
  /** What may be written or scanned; it becomes the line. */
  readonly field: Omit<PhoneField, "what" | "text"> | undefined;
}

/** One such question on the phone, until somebody has answered. */
class BetweenRuns {
  readonly answer: Promise<string>;
  private readonly question: PhoneQuestion;
  private settle: (line: string) => void = () => {};

  constructor(question: PhoneQuestion) {
    this.question = question;
    this.answer = new Promise((resolve) => {
      this.settle = resolve;
    });
  }

  /** The page of the question, as a phone shows it. */
  page(): PhonePage {
    const { headline, lines, answers, field } = this.question;
    return {
      drawn: 1,
      moving: "stands",
      where: "Nothing moves",
      step: "",
      headline,
      lines: lines.map((text) => ({ text, look: "plain" })),
      strips: [],
      press: "",
      again: "",
      stop: "",
      guarded: "",
      answers: answers.map(({ words }) => ({ words: capital(words), look: "plain" })),
      fields: field ? [{ ...field, what: "line", text: "" }] : [],
    };
  }

  /** Takes in what the phone says; an answer, or a line that was filled in, settles the question. */
  hear(said: PhoneSaid): void {
    if (said.drawn !== 1) return;
    if (said.kind === "fill") this.settle(said.text);
    else if (said.kind === "answer") {
      const chosen = this.question.answers[said.choice];
      if (chosen) this.settle(chosen.line);
    }
  }

  /** Drops a photo: a question between two runs has no use for one. */
  photo(): void {}
  /** Does nothing: nothing moves that a lost phone would have to stop. */
  lost(): void {}
  /** Does nothing: the question is still there. */
  back(): void {}
}
