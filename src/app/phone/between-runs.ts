import type { PhoneField, PhonePage, PhoneSaid } from "../../run/phone/message.ts";
import { capital } from "../../ui/view.ts";

/** What the terminal asks between two runs, for a phone: each answer is the line that would be typed. */
export interface PhoneQuestion {
  readonly headline: string;
  readonly lines: readonly string[];
  readonly answers: readonly { readonly words: string; readonly line: string }[];
  /** What may be written or scanned; it becomes the line. */
  readonly field: Omit<PhoneField, "what" | "text"> | undefined;
}

/** One such question on the phone, until somebody has answered. */
export class BetweenRuns {
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
