import type { HandWork } from "../data/sequence/by-hand.ts";
import { cleaning } from "../domain/trade/cleanings.ts";
import { holdPointWords } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { READINGS } from "../domain/trade/readings.ts";

/** What a step of a sequence asks to be done by hand, in words. */
export const handWorkInWords = (work: HandWork): string => {
  switch (work.kind) {
    case "hold-point":
      return `hold point: ${work.points.map(holdPointWords).join("; ")}`;
    case "inspect":
      return `inspect: ${typeof work.looks === "string" ? LOOKS[work.looks] : work.looks.map((id) => inspection(id).look).join("; ")}`;
    case "clean":
      return `clean: ${work.what === "due" ? "all that is fitted" : work.what.map((id) => cleaning(id).what).join("; ")}`;
    case "reading":
      return `measure: ${READINGS[work.reading].words}`;
    default:
      return work satisfies never;
  }
};

const LOOKS = {
  outside: "all that is due from outside; a bad answer blocks power",
  due: "all that is due at every check-in",
  proposed: "what the faults seen so far propose, then all that is due at every check-in",
} as const;
