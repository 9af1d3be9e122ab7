import { z } from "zod";

/** The name a step may have, driven or by hand; without one it is called after what it does. */
export const id = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]*$/, "small letters, digits and hyphens only")
  .optional();
