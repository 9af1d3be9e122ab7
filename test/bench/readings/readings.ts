import { FEWEST, oddInRack } from "../../../src/data/rack/odd.ts";
import { chanceFrom, normal } from "../../../src/sim/chance.ts";
import { type Row, row } from "../line/row.ts";

const RACKS = Number(process.env["RACKS"] ?? 2000);
const QUANTITIES = 6;

/**
 * How often a rack with nothing wrong has an odd one, for every size from 4 to 48 and six quantities: the risk is meant to be 5 %
 * at most for the rack as a whole. Beside it what comes of giving every quantity the whole risk.
 */
export const readingsBench = (): readonly Row[] =>
  Array.from({ length: 48 - FEWEST + 1 }, (_, n) => n + FEWEST).map((size) => {
    const chance = chanceFrom(9000 + size);
    let [asOne, oneByOne] = [0, 0];
    for (let rack = 0; rack < RACKS; rack++) {
      const readings = Array.from({ length: QUANTITIES }, () => ({
        values: Array.from({ length: size }, () => normal(chance)),
        matters: 0,
      }));
      if (oddInRack(readings).some((one) => (one?.odd.length ?? 0) > 0)) asOne++;
      if (readings.some((one) => (oddInRack([one])[0]?.odd.length ?? 0) > 0)) oneByOne++;
    }
    return row(
      `${size} of a kind, ${QUANTITIES} quantities, nothing wrong: racks with a name, beside each quantity by itself`,
      "%",
      (100 * asOne) / RACKS,
      (100 * oneByOne) / RACKS,
    );
  });
