import { z } from "zod";

/** Any words in an event. No NUL: the database cuts strings there. */
export const text = z.string().refine((value) => !value.includes("\0"), "must not contain a NUL character");
/** Words that say something. */
export const someText = text.refine((value) => value.trim() !== "", "must not be empty");
