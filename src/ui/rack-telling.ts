import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { memberAt, type RackStageOf } from "../run/batch/batch.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { movingTold, slowTold, whichTold } from "./rack-moving.ts";
import { confirmingTold, finishedTold, holdingTold, lossTold, pausedTold, strangerTold } from "./rack-waiting.ts";
import type { RackSight } from "./sight.ts";
import { type RackPageView, said, toAnswer } from "./view.ts";

/** What is said round the rows of a rack in the stage that it is in. */
export const toldNow = (sight: RackSight): RackPageView => {
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
      return bare("one moment", "Opening the DMX lines ...");
    case "alone":
      return bare("alone", "");
    default:
      return stage satisfies never;
  }
};

const bare = (headline: string, words: string): RackPageView => ({
  headline,
  far: headline,
  where: "",
  above: said(words),
  below: [],
});

const betweenTold = (sight: RackSight, { odd }: RackStageOf<"between">): RackPageView => {
  const { batch, plan } = sight;
  const [first] = odd;
  const name = first === undefined ? "" : safeText(placeInWords(memberAt(batch, first).place));
  const count = odd.length === 1 ? "1 suspect" : `${odd.length} suspects`;
  const words = `${count}. Now each one moves alone, slowly, one function at a time: only what you pressed for. All others stand dark and still. First: ${name}.`;
  return {
    headline: "all groups are done",
    far: "One by one",
    where: "",
    above: said(words),
    below: [
      ...toAnswer(said(`${keyWords(plan.own["one-by-one"])}: continue.`, "strong")),
      ...said(`Stop here: ${anyOf(plan.stop)}. You can resume it another day.`),
    ],
  };
};

const addressTold = (sight: RackSight, { member, free }: RackStageOf<"own-address">): RackPageView => {
  const { batch, plan } = sight;
  const { place, spot, serial } = memberAt(batch, member);
  const others = batch.members.filter(
    (one) => one.serial !== serial && one.spot.universe === spot.universe && one.spot.address === spot.address,
  ).length;
  const panel =
    free === undefined
      ? `Universe ${spot.universe} has no room for another address.`
      : `${keyWords(plan.own["own-address"])}: its panel now shows address ${free}, universe ${spot.universe}.`;
  return {
    headline: `tell it apart: ${safeText(placeInWords(place))}`,
    far: free === undefined ? "Unplug" : `Set ${free}`,
    where: safeText(serial),
    above: [
      ...said(
        `It shares address ${spot.address} with ${others === 1 ? "one other" : `${others} others`}, which would move with it.`,
      ),
      ...said("It stands dark and still; keep out of its swing, and your hands off everything but the panel."),
    ],
    below: [
      ...toAnswer(said(panel, "strong")),
      ...said(`${anyOf(plan.again)}: I unplugged the data of all others instead.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};
