import { safeText } from "../../domain/problem/terminal.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import type { Phone } from "./beside.ts";
import type { PhoneQuestion } from "./between-runs.ts";

/** One line from whoever stands here, at the terminal or on the phone; undefined when no more will come. */
export const askLine = async (
  phone: Phone | undefined,
  words: string,
  question: PhoneQuestion,
): Promise<string | undefined> => {
  const lines = typedLines();
  lines.say(words);
  const onPhone = phone?.ask(question);
  const typed = lines.next();
  const touched = onPhone?.answer.then((line) => {
    lines.say(`> ${safeText(line)}  (on the phone)`);
    return line;
  });
  const line = await (touched === undefined ? typed : Promise.race([typed, touched]));
  onPhone?.over();
  lines.close();
  return line?.trim();
};
