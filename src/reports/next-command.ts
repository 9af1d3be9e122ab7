import { safeText } from "../domain/problem/terminal.ts";
import type { Reason } from "../run/release/rules.ts";

/** The one command that comes next for a fixture that is not released; undefined where nothing blocks it. */
export const nextCommand = (serial: string, reasons: readonly Reason[]): string | undefined => {
  const has = (rule: Reason["rule"]) => reasons.some((reason) => reason.rule === rule);
  const name = asArgument(serial);
  if (reasons.length === 0) return undefined;
  if (has("named")) return "limber run check-in --serial NUMBER";
  if (has("danger") || has("repaired")) return `limber repaired ${name} FAULT`;
  if (has("over")) return "limber resume";
  if (has("held-back")) return `limber lift ${name} --why WORDS`;
  return `limber finish ${name}`;
};

/** What the next command does for a fixture that is not released, in words; "" where nothing blocks it. */
export const nextInWords = (serial: string, reasons: readonly Reason[]): string => {
  const command = nextCommand(serial, reasons);
  if (command === undefined) return "";
  if (command.startsWith("limber finish"))
    return `${command} plays, asks and measures what is still to do; then it asks for the signature.`;
  if (command.startsWith("limber repaired")) return `Repair it, record that with "${command}", then limber finish.`;
  if (command === "limber resume") return '"limber resume" continues the open run; then limber finish.';
  if (command.startsWith("limber lift")) return `Whoever lifts it says why: "${command}"; then limber finish.`;
  return `Without a serial number nobody can tell it from others: "${command}".`;
};

/** As a shell takes it. */
const asArgument = (serial: string): string =>
  /^[\w.@%+=:,/-]+$/.test(serial) ? serial : `'${safeText(serial).replaceAll("'", `'\\''`)}'`;
