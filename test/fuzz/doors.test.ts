import fc from "fast-check";
import { expect, test } from "vitest";
import { DOORS } from "../kit/fuzz/doors.ts";

/** Thousands more in a child process with little memory: `npm run bench -- fuzz`. */
test.each(DOORS)(
  "$name: whatever is changed in a valid file, it is taken or refused with reasons that point at their place",
  ({ files, flawOf }) => {
    fc.assert(
      fc.property(files, (file) => {
        expect(flawOf(file as never)).toBeUndefined();
      }),
      { numRuns: 300, seed: 20_261_125 },
    );
  },
);
