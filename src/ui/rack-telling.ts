import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { memberAt } from "../run/batch/batch.ts";
import { answerRows } from "./answer-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { movingTold, slowTold, whichTold } from "./rack-moving.ts";
import type { RackSight, RackStageOf } from "./rack-sight.ts";
import type { Told } from "./rack-told.ts";
import { confirmingTold, finishedTold, holdingTold, lossTold, pausedTold, strangerTold } from "./rack-waiting.ts";
import { said } from "./rows.ts";

/** What is said round the rows in each stage. */
export const toldNow = (sight: RackSight): Told => {
  const { stage } = sight.batch;
  switch (stage.kind) {
    case "moving":
      return movingTold(sight, stage);
    case "which":
      return whichTold(sight, stage);
    case "slow-start":
      return slowTold(sight, stage);
    case "holding":
      return holdingTold(sight, stage);
    case "confirming":
      return confirmingTold(sight, stage);
    case "paused":
      return pausedTold(sight);
    case "line-lost":
      return lossTold(sight, stage);
    case "other-interface":
      return strangerTold(sight, stage);
    case "between":
      return betweenTold(sight, stage);
    case "own-address":
      return addressTold(sight, stage);
    case "finished":
      return finishedTold(sight, stage);
    case "opening":
      return bare(sight, "one moment", "Opening the DMX lines ...");
    case "alone":
      return bare(sight, "alone", "");
    default:
      return stage satisfies never;
  }
};

const bare = ({ size }: RackSight, headline: string, words: string): Told => ({
  headline,
  far: headline,
  where: "",
  above: said(words, size.columns),
  below: [],
});

const betweenTold = (sight: RackSight, { odd }: RackStageOf<"between">): Told => {
  const { batch, plan, size } = sight;
  const [first] = odd;
  const name = first === undefined ? "" : safeText(placeInWords(memberAt(batch, first).place));
  const count = odd.length === 1 ? "One fixture differed" : `${odd.length} fixtures differed`;
  const words = `${count}. Now each of them alone: only what was pressed for, one function at a time, slowly. All others stand dark and still. First: ${name}.`;
  return {
    headline: "all groups are watched",
    far: "One by one",
    where: "",
    above: said(words, size.columns),
    below: [
      ...answerRows(sight, said(`${keyWords(plan.own["one-by-one"])}: go on.`, size.columns, "strong")),
      ...said(`Stop here: ${anyOf(plan.stop)}; it can be gone on with another day.`, size.columns),
    ],
  };
};

const addressTold = (sight: RackSight, { member, free }: RackStageOf<"own-address">): Told => {
  const { batch, plan, size } = sight;
  const { place, spot, serial } = memberAt(batch, member);
  const others = batch.members.filter(
    (one) => one.serial !== serial && one.spot.universe === spot.universe && one.spot.address === spot.address,
  ).length;
  const panel =
    free === undefined
      ? `Universe ${spot.universe} has no room for another address.`
      : `${keyWords(plan.own["own-address"])}: its panel now says address ${free}, universe ${spot.universe}.`;
  return {
    headline: `tell it apart: ${safeText(placeInWords(place))}`,
    far: free === undefined ? "Unplug" : `Set ${free}`,
    where: safeText(serial),
    above: [
      ...said(
        `It shares address ${spot.address} with ${others === 1 ? "one other" : `${others} others`}, which would move with it.`,
        size.columns,
      ),
      ...said(
        "It stands dark and still; keep out of its swing, and your hands off everything but the panel.",
        size.columns,
      ),
    ],
    below: [
      ...answerRows(sight, said(panel, size.columns, "strong")),
      ...said(`${anyOf(plan.again)}: the data of all others is unplugged instead.`, size.columns),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`, size.columns),
    ],
  };
};
