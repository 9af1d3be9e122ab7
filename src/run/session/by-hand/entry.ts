import { nameTrouble, writtenName } from "../../../domain/problem/identity.ts";
import { stay } from "../../machine/running.ts";
import type { Change } from "../change.ts";
import type { Session } from "../session.ts";
import type { HandTask } from "./task.ts";

/** The session with this task on its page. */
export const at = (session: Session, task: HandTask): Change => stay({ ...session, stage: { kind: "by-hand", task } });

/** A typed text as the journal takes it: without zero characters, and without blanks around it. */
export const typedText = (text: string): string => text.replaceAll("\0", "").trim();

/** Initials of whoever measured or repaired; nothing where nobody could read them. */
export const typedInitials = (text: string): string => (nameTrouble(text) === undefined ? writtenName(text) : "");

/**
 * The number that was typed, 0 or more, in the unit of what is asked. A comma is a point to half of the
 * world. Undefined for what is no number.
 */
export const typedNumber = (text: string): number | undefined => {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() === "" || !Number.isFinite(value) || value < 0 ? undefined : value;
};
