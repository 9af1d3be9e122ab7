import type { Desk, Entry, Keyed } from "./desk.ts";

const MOST: Readonly<Record<Entry["what"], number>> = {
  note: 200,
  person: 8,
  photo: 80,
  value: 20,
  part: 60,
  minutes: 5,
  initials: 8,
};

/** A key while text is being typed: enter keeps it, escape drops it, nothing else is a command. */
export const typing = (desk: Desk, entry: Entry, key: string, answers: string): Keyed => {
  if (key === "escape") return [{ ...desk, entry: undefined }, [{ kind: "here" }]];
  if (key === "enter") return kept(desk, entry, answers);
  const text = key === "backspace" ? [...entry.text].slice(0, -1).join("") : entry.text + characterOf(key);
  return [{ ...desk, entry: { ...entry, text: text.slice(0, MOST[entry.what]) } }, [{ kind: "here" }]];
};

const kept = (desk: Desk, { what, text }: Entry, answers: string): Keyed => {
  const said = text.trim();
  const closed: Desk = { ...desk, entry: undefined };
  if (what === "note") return [closed, [{ kind: "note", answers, text: said }]];
  if (what !== "person") return [closed, [{ kind: "filled", answers, what, text: said }]];
  return [closed, [said === "" ? { kind: "here" } : { kind: "person", initials: said }]];
};

/** Names of keys are longer than one character; what is longer and no blank types nothing. */
export const characterOf = (key: string): string => {
  if (key === "space") return " ";
  return [...key].length === 1 && !/\p{Cc}/u.test(key) ? key : "";
};
