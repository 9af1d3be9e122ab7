import { expect, test } from "vitest";
import { simulatedRackRun } from "../../src/commands/rack-unattended.ts";
import { fileShelf } from "../../src/shelf/files.ts";
import { must } from "../kit/shipped.ts";

test("two spots side by side, one with a slack tilt belt: the odd one shows in the group and is named alone", async () => {
  const { ended } = must(
    await simulatedRackRun(fileShelf(), {
      names: { rack: "test/kit/two-spots.yaml", sequence: "pan-tilt", bench: "bench" },
      run: "story",
      set: new Map([["SP-2", ["tilt-drive-slack"]]]),
      seed: 1,
    }),
  );
  const failed = ended.members.map(({ session }) =>
    session.view.steps.flatMap(({ judged }) => (judged?.result === "fail" ? judged.symptoms : [])),
  );
  expect(failed[0]).toEqual([]);
  expect(failed[1]).toContainEqual({ symptom: "knocks", function: "Tilt" });
  expect(ended.stage).toEqual({ kind: "finished", how: "finished" });
}, 120_000);
