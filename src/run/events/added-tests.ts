import type { RunView } from "./view.ts";

/**
 * The name of a step that is added to a run: "added-2-of-1-hot-sweep" where it belongs to the test that the step `of`
 * began. `number` and `of` count the added steps of the run.
 */
export const addedName = (number: number, of: number | undefined, name: string): string =>
  `added-${number}-${of === undefined ? "" : `of-${of}-`}${name}`;

/** A test that was added to a run, in however many steps. */
export interface AddedTest {
  /** "shaken-shake", "sweep". */
  readonly name: string;
  /** Whether anything was reported in it. */
  readonly reported: boolean;
}

/** The tests that were added to a run, in their order. */
export const addedTests = ({ steps, added }: Pick<RunView, "steps" | "added">): readonly AddedTest[] => {
  const own = steps.slice(steps.length - added.length);
  const starts = own.flatMap(({ id }, at) => (goesOn(id) ? [] : [at]));
  return starts.map((start, n) => ({
    name: own[start]?.id.replace(/^added-\d+-/, "") ?? "",
    reported: own
      .slice(start, starts[n + 1])
      .some(({ judged }) => judged?.result === "fail" || judged?.result === "unsure"),
  }));
};

/** A step of a test that was begun by another. */
const goesOn = (id: string): boolean => /^added-\d+-of-/.test(id);

/** How many steps the last test took; 0 where none was added. */
export const stepsOfLastTest = ({ added }: Pick<RunView, "added">): number =>
  added.length === 0 ? 0 : added.length - added.findLastIndex(({ id }) => !goesOn(id));
