import type { Problem } from "../../domain/problem/problem.ts";
import type { RackFixture } from "./rack.ts";

/** Says what is wrong at one key of a fixture. */
export type AtFixture = (
  fixture: RackFixture,
  key: string,
  words: { readonly message: string; readonly hint?: string | undefined },
) => Problem;
