import { isolated } from "../../domain/problem/terminal.ts";
import type { Milliseconds } from "../../domain/units.ts";
import type { PhonePage, PhoneSaid } from "../../run/phone/message.ts";

/** What a page says, before it is counted. */
export type PhoneBody = Omit<PhonePage, "drawn">;

export type Touched = Extract<PhoneSaid, { kind: "answer" | "guarded" }>;

/**
 * The page of a phone, on which whatever is written from right to left keeps to itself. What a
 * person has typed so far stays as it is.
 */
export const directedPage = (page: PhonePage): PhonePage => ({
  ...page,
  where: isolated(page.where),
  step: isolated(page.step),
  headline: isolated(page.headline),
  lines: page.lines.map((line) => ({ ...line, text: isolated(line.text) })),
  strips: page.strips.map((strip) => ({ ...strip, label: isolated(strip.label), words: isolated(strip.words) })),
  guarded: isolated(page.guarded),
  answers: page.answers.map((answer) => ({ ...answer, words: isolated(answer.words) })),
  fields: page.fields.map((field) => ({ ...field, words: isolated(field.words) })),
});

interface ShownPage<Moment> {
  readonly number: number;
  readonly since: Milliseconds;
  readonly moment: Moment;
  readonly offers: string;
}

/** How many pages are remembered: an answer that is on its way may be to one before. */
const MOST = 60;

/** Pages by their numbers: another number whenever what can be touched is not the same. */
export class PhonePages<Moment> {
  private shown: ShownPage<Moment>[] = [];
  private count = 0;

  /**
   * The page as it is sent, with the number of its drawing, which stays the same while the page offers the same.
   * `now` is in milliseconds by our clock.
   */
  put(moment: Moment, body: PhoneBody, question: string | undefined, now: Milliseconds): PhonePage {
    const { answers, fields, guarded, press, again, stop, headline } = body;
    const offers = JSON.stringify([question, answers, fields, guarded, press, again, stop, headline]);
    const last = this.shown.at(-1);
    if (last?.offers === offers) {
      // The state behind the same page may be a newer one: answers go to what they name in any case.
      this.shown[this.shown.length - 1] = { ...last, moment };
      return { ...body, drawn: last.number };
    }
    this.count += 1;
    this.shown = [...this.shown, { number: this.count, since: now, moment, offers }].slice(-MOST);
    return { ...body, drawn: this.count };
  }

  /** The drawing with this number, from 1; undefined for one that is too long ago. `number` counts the drawings. */
  at(number: number): ShownPage<Moment> | undefined {
    return this.shown.find((one) => one.number === number);
  }
}
