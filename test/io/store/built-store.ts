import { join } from "node:path";
import type { openJournal } from "../../../src/io/store/journal.ts";
import { built } from "../../kit/built.ts";

/** The journal as it is shipped: its worker thread needs compiled files. */
export const builtStore = async (): Promise<{ readonly openJournal: typeof openJournal }> =>
  import(/* @vite-ignore */ join(built(), "io/store/journal.js"));
