import { bad, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/terminal.ts";
import { lint } from "./lint/lint.ts";
import { readProfile } from "./parse.ts";
import type { ProfileFile } from "./schema.ts";
import { profileText, type Remarks } from "./write.ts";

/** The text of a profile that was made from something a maker says, and what the profile check would have doubted in it. */
export interface MadeProfile {
  readonly text: string;
  readonly doubts: readonly Problem[];
}

/**
 * Writes a profile that nobody has looked at yet. It is read back as any other before it is handed out, and what the check
 * would doubt is allowed with the reason that the maker says it so: what Limber writes, Limber takes. Where reading it back
 * finds a mistake, the result is that mistake.
 *
 * @param whose where the numbers come from, as it stands in the exceptions: "From the maker's file"
 */
export const madeProfile = (
  source: string,
  file: ProfileFile,
  remarks: Remarks,
  whose: string,
): Result<MadeProfile> => {
  const parsed = readProfile(source, profileText(file, remarks));
  if (!parsed.ok) return bad(...parsed.problems);
  const doubts = lint(parsed.value);
  const allow = Object.fromEntries(
    doubts.map(({ rule, problem }) => [rule, safeText(`${whose}, not checked yet: ${problem.message}`)]),
  );
  return good({
    text: profileText(doubts.length > 0 ? { ...file, allow } : file, remarks),
    doubts: doubts.map(({ problem }) => problem),
  });
};

/** "Spot 12 (8 bit)" becomes "spot-12-8-bit": small letters, digits and hyphens. */
export const slug = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "") || "fixture";
