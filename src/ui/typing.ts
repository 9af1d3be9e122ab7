import { charactersIn, firstCharacters } from "../domain/problem/shown-text.ts";
import type { RackInput } from "../run/machine/input.ts";
import { actionOf, type KeyPlan } from "./key-plan.ts";
import { pastedIn } from "./keys.ts";
import { type Desk, HERE, type Keyed, type TypedEntry } from "./sight.ts";

const MOST: Readonly<Record<TypedEntry["what"], number>> = {
  note: 200,
  person: 8,
  photo: 80,
  value: 20,
  part: 60,
  minutes: 5,
  initials: 8,
  serial: 40,
};

/** What a key does while text is being typed: enter saves it, escape drops it, nothing else is a command. */
export const typing = (desk: Desk, entry: TypedEntry, key: string): Keyed => {
  const done: Desk = { ...desk, entry: undefined, picked: undefined };
  if (key === "escape") return [done, [HERE]];
  if (key === "enter") return [done, [kept(desk, entry)]];
  const longer = key === "backspace" ? charactersIn(entry.text).slice(0, -1).join("") : entry.text + typedBy(key);
  const text = firstCharacters(longer, MOST[entry.what]);
  if (endsLine(key)) return [done, [kept(desk, { ...entry, text })]];
  return [{ ...desk, entry: { ...entry, text } }, [HERE]];
};

/** Whether a key ends the figure that is being typed: no figure has these letters, so the value is kept, and the letter answers. */
export const endsFigure = ({ what }: TypedEntry, key: string, plan: KeyPlan): boolean => {
  const action = actionOf(plan, key);
  return what === "value" && (action === "good" || action === "failed" || action === "absent");
};

const kept = ({ picked, question }: Desk, { what, text }: TypedEntry): RackInput => {
  const answers = question ?? "";
  const said = text.trim();
  switch (what) {
    case "note":
      return { kind: "note", answers, text: said };
    case "person":
      return said === "" ? HERE : { kind: "person", initials: said };
    case "serial":
      return said === "" || picked === undefined ? HERE : { kind: "swap", answers, member: picked, serial: said };
    default:
      return { kind: "filled", answers, what, text: said };
  }
};

/**
 * What a key, or a text that came in one piece, adds to what is being typed: its first line, without control characters.
 */
const typedBy = (key: string): string => {
  const pasted = pastedIn(key);
  return pasted === undefined ? characterOf(key) : (pasted.split(/[\r\n]/)[0] ?? "").replace(/\p{Cc}/gu, " ");
};

/** Whether a paste came with its line break, and so was meant whole. */
const endsLine = (key: string): boolean => /[\r\n]$/.test(pastedIn(key) ?? "");

/** Names of keys are longer than one character; what is longer and no blank types nothing. */
const characterOf = (key: string): string => {
  if (key === "space") return " ";
  return [...key].length === 1 && !/\p{Cc}/u.test(key) ? key : "";
};
