import type { Family } from "./family.ts";

/** Commands about fixtures plugged up together; none of these moves anything. */
export const racks: Family = (program, ends) => {
  const rack = program.command("rack").description("fixtures plugged up together");

  rack
    .command("check <file>")
    .description("everything wrong with a rack file at once; else its loads, and the order to switch it on")
    .action(async (file) => {
      const { checkRackFile } = await import("../commands/rack-check.ts");
      await ends(checkRackFile(file));
    });
};
