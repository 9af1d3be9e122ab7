import { goFirst } from "../../../src/io/clock/crowded.ts";
import { lineDecoder } from "../../kit/line-decoder.ts";
import { type PtyPair, ptyPair } from "../../kit/pty.ts";
import { type Arrival, answering } from "./talk.ts";

/** The one independent reader: a process of its own that holds the far ends of all cables and notes when packets come. */
interface Cable {
  readonly pair: PtyPair;
  readonly arrivals: Arrival[];
}
const cables = new Map<string, Cable>();

const newCable = (): Cable => {
  const arrivals: Arrival[] = [];
  const decoder = lineDecoder((packet) => {
    arrivals.push({ at: Number(process.hrtime.bigint()) / 1e6, slots: packet.slice(0, 8) });
  });
  return { pair: ptyPair(decoder.take), arrivals };
};

// It measures: where the system allows it, it is not held up by what it measures.
goFirst();

answering(({ what, name }: { readonly what: "lay" | "taken" | "report"; readonly name: string }) => {
  const cable = cables.get(name) ?? newCable();
  if (what === "lay") cables.set(name, cable);
  if (what === "taken") cable.pair.taken();
  if (what === "report") {
    cable.pair.pullOut();
    cables.delete(name);
  }
  return what === "report" ? cable.arrivals : cable.pair.path;
});
