import { performance } from "node:perf_hooks";
import type { Batch } from "../run/batch/batch.ts";
import type { RackInput } from "../run/batch/input.ts";
import type { Screen } from "./options.ts";
import { RackAttendant, type RackScreenOptions } from "./rack-attendant.ts";
import { inkScreen } from "./screen.ts";

/** The screen of a person before a rack: all fixtures in rows, by shelf; one that is looked at alone as on any bench. */
export const rackScreen = (options: RackScreenOptions): Screen<Batch, RackInput> =>
  inkScreen(options, new RackAttendant(options, options.now ?? (() => performance.now())));
