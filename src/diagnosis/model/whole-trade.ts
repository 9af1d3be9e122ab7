import { FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import { MECHANISM_IDS } from "../../domain/trade/mechanisms.ts";
import { networkFor } from "./network.ts";
import type { Network } from "./network-shape.ts";

/** A fixture that has every mechanism: what one kind of fixture teaches about a mechanism counts for the others. */
const EVERYTHING = MECHANISM_IDS.map((mechanism) => ({
  mechanism,
  function: (Object.keys(FUNCTIONS) as FunctionId[]).find((id) => FUNCTIONS[id].mechanism === mechanism) ?? "Pan",
}));

/** The network that the shop's cases are learned into, with its starter values. Built when it is first wanted. */
export const wholeTrade = (): Network => {
  built ??= networkFor(EVERYTHING);
  return built;
};

let built: Network | undefined;
