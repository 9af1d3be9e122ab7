import type { Asked } from "./ask.ts";
import { type Charted, chart } from "./chart.ts";

/** How far a conversation has come: its answers say it all, so that going back is leaving out the last. */
export type Interview =
  | { readonly kind: "asking"; readonly answers: readonly string[]; readonly asked: Asked }
  | { readonly kind: "told"; readonly answers: readonly string[]; readonly charted: Charted };

/** Plays the conversation from its beginning with these answers, up to the question that comes next or to its end. */
export const interview = (usualName: string | undefined, answers: readonly string[] = []): Interview => {
  const conversation = chart(usualName);
  const end = answers.reduce((_, text) => conversation.next(text), conversation.next());
  return end.done ? { kind: "told", answers, charted: end.value } : { kind: "asking", answers, asked: end.value };
};

/** What comes of one line typed: a step on, a step back, or words about why it stays where it is. */
export type HeardLine =
  | { readonly kind: "on"; readonly interview: Interview }
  | { readonly kind: "not-understood"; readonly words: string };

/**
 * Takes one typed line: "back" takes the last answer away, a line that the question can read is its answer, and any other
 * line is told in words what is wrong with it and changes nothing.
 */
export const heard = (usualName: string | undefined, before: Interview, line: string): HeardLine => {
  const text = line.trim();
  if (text === "back") return { kind: "on", interview: interview(usualName, before.answers.slice(0, -1)) };
  if (before.kind === "told") return { kind: "on", interview: before };
  const read = before.asked.question.read(text);
  if (read.ok) return { kind: "on", interview: interview(usualName, [...before.answers, text]) };
  return {
    kind: "not-understood",
    words: read.problems.map(({ message, hint }) => (hint ? `${message} (${hint})` : message)).join("; "),
  };
};
