import { charactersIn, firstCharacters } from "../domain/problem/terminal.ts";
import type { Desk, Keyed, TypedEntry } from "./desk.ts";
import { pastedIn } from "./keys.ts";

const MOST: Readonly<Record<TypedEntry["what"], number>> = {
  note: 200,
  person: 8,
  photo: 80,
  value: 20,
  part: 60,
  minutes: 5,
  initials: 8,
};

/** What a key does while text is being typed: enter saves it, escape drops it, nothing else is a command. */
export const typing = (desk: Desk, entry: TypedEntry, key: string, answers: string): Keyed => {
  if (key === "escape") return [{ ...desk, entry: undefined }, [{ kind: "here" }]];
  if (key === "enter") return kept(desk, entry, answers);
  const longer = key === "backspace" ? charactersIn(entry.text).slice(0, -1).join("") : entry.text + typedBy(key);
  const text = firstCharacters(longer, MOST[entry.what]);
  if (endsLine(key)) return kept(desk, { ...entry, text }, answers);
  return [{ ...desk, entry: { ...entry, text } }, [{ kind: "here" }]];
};

const kept = (desk: Desk, { what, text }: TypedEntry, answers: string): Keyed => {
  const said = text.trim();
  const closed: Desk = { ...desk, entry: undefined };
  if (what === "note") return [closed, [{ kind: "note", answers, text: said }]];
  if (what !== "person") return [closed, [{ kind: "filled", answers, what, text: said }]];
  return [closed, [said === "" ? { kind: "here" } : { kind: "person", initials: said }]];
};

/**
 * What a key, or a text that came in one piece, adds to what is being typed: its first line, without control characters.
 */
export const typedBy = (key: string): string => {
  const pasted = pastedIn(key);
  return pasted === undefined ? characterOf(key) : (pasted.split(/[\r\n]/)[0] ?? "").replace(/\p{Cc}/gu, " ");
};

/** Whether a paste came with its line break, and so was meant whole. */
export const endsLine = (key: string): boolean => /[\r\n]$/.test(pastedIn(key) ?? "");

/** Names of keys are longer than one character; what is longer and no blank types nothing. */
const characterOf = (key: string): string => {
  if (key === "space") return " ";
  return [...key].length === 1 && !/\p{Cc}/u.test(key) ? key : "";
};
