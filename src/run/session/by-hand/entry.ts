import { nameTrouble, writtenName } from "../../../domain/problem/identity.ts";
import { stay } from "../../machine/running.ts";
import type { Change } from "../change.ts";
import type { Session } from "../session.ts";
import type { HandTask } from "./task.ts";

export const at = (session: Session, task: HandTask): Change => stay({ ...session, stage: { kind: "by-hand", task } });

/** As the journal takes it. */
export const typedText = (text: string): string => text.replaceAll("\0", "").trim();

/** Initials of whoever measured or repaired; nothing where nobody could read them. */
export const typedInitials = (text: string): string => (nameTrouble(text) === undefined ? writtenName(text) : "");

/** A comma is a point to half of the world; undefined for what is no number. */
export const typedNumber = (text: string): number | undefined => {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() === "" || !Number.isFinite(value) || value < 0 ? undefined : value;
};
