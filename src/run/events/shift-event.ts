import { z } from "zod";
import { text } from "./text.ts";

/** Why a fixture is set aside in the middle of its work. */
export const ASIDE_REASONS = ["part", "cooling", "other"] as const;
export type AsideReason = (typeof ASIDE_REASONS)[number];
export const ASIDE_WORDS: Readonly<Record<AsideReason, string>> = {
  part: "waiting for a part",
  cooling: "cooling",
  other: "set aside",
};

/** Written in the fixture's own run; whatever is written there afterwards takes it up again. */
const setAside = z.strictObject({ kind: z.literal("set-aside"), why: z.enum(ASIDE_REASONS), note: text });

export const SHIFT_EVENTS = [setAside] as const;
