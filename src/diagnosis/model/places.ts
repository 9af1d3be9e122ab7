import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import { MECHANISM_IDS, MECHANISMS, type MechanismId } from "../../domain/trade/mechanisms.ts";
import { SYMPTOM_IDS, SYMPTOMS, type SymptomId } from "../../domain/trade/symptoms.ts";
import { type NodeId, symptomNode } from "./node.ts";

/** A function of this fixture and the mechanism that moves it. */
export interface Fitted {
  readonly function: FunctionId;
  readonly mechanism: MechanismId;
}

/**
 * Something that moves by itself and can fail by itself: a mechanism, or one of its like parts (one flag of three, one blade
 * of four, one wheel of two). Both functions of one gobo wheel are one part.
 */
export interface MovingPart {
  readonly key: string;
  readonly mechanism: MechanismId;
  /** The functions that move it; each has a motor of its own. */
  readonly functions: readonly FunctionId[];
  readonly words: string;
}

/** Where the model keeps a symptom: a part that moves has its own, everything else belongs to the fixture as a whole. */
export type Place = MovingPart | "fixture";

/** A place as keys of the network name it. */
export const placeKey = (place: Place): string => (place === "fixture" ? place : place.key);

/** A symptom at a place, or something wrong there that nobody put a name to. */
export interface Finding {
  readonly id: NodeId;
  readonly place: Place;
  readonly what: SymptomId | "unnamed";
}

/** Something found at a place, with the id it has in the network. */
export const findingAt = (place: Place, what: Finding["what"]): Finding => ({
  id: symptomNode(placeKey(place), what),
  place,
  what,
});

const MOVING: ReadonlySet<MechanismId> = new Set(SYMPTOMS["no-move"].on);

/** Whether a mechanism moves something. */
export const isMoving = (mechanism: MechanismId): boolean => MOVING.has(mechanism);

/** Whether this mechanism can show the symptom; what the fixture shows as a whole no mechanism can. */
export const canShow = (mechanism: MechanismId, symptom: SymptomId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on !== "fixture" && on.includes(mechanism);
};

/** Whether only a moving mechanism shows the symptom: without a function nobody knows which one it is. */
export const belongsToMover = (symptom: SymptomId): boolean => {
  const on: readonly MechanismId[] | "fixture" = SYMPTOMS[symptom].on;
  return on !== "fixture" && on.every(isMoving);
};

/** The parts that move, in the order of the mechanisms. */
export function partsOf(fitted: readonly Fitted[]): readonly MovingPart[] {
  return MECHANISM_IDS.filter(isMoving).flatMap((mechanism) => {
    const own = fitted.filter((one) => one.mechanism === mechanism);
    const names = [...new Set(own.map(partName))];
    return names.map((name): MovingPart => {
      const functions = own.filter((one) => partName(one) === name).map((one) => one.function);
      const [first] = functions;
      const alone = names.length === 1 || first === undefined;
      return {
        key: alone ? mechanism : `${mechanism} ${name}`,
        mechanism,
        functions,
        words: alone ? MECHANISMS[mechanism] : functionWords(first),
      };
    });
  });
}

/** The two blades that dim and shut are one pair; the two motors of a framing blade move one blade. */
const partName = ({ function: id, mechanism }: Fitted): string => {
  if (mechanism === "dimmer-shutter") return mechanism;
  return id.startsWith("Blade") ? id.slice(0, "Blade1".length) : id.replace(/Pos$/, "");
};

/** Whether a part is the ring that turns all framing blades together, which is no blade. */
export const isRing = ({ functions }: MovingPart): boolean => functions.includes("ShaperRot");

/** The part that a function moves; undefined for a function that moves none. */
export const partOf = (parts: readonly MovingPart[], { function: id, mechanism }: Fitted): MovingPart | undefined =>
  parts.find((part) => part.functions.includes(id)) ?? parts.find((part) => part.mechanism === mechanism);

/** Where a symptom is put: at the part itself if it can show this; else at the fixture. */
export const placeOf = (part: MovingPart | undefined, symptom: SymptomId): Place =>
  part && canShow(part.mechanism, symptom) ? part : "fixture";

/** Every symptom that can be reported of a fixture with these parts. */
export const findingsOf = (parts: readonly MovingPart[]): readonly (Finding & { readonly what: SymptomId })[] => [
  ...parts.flatMap((part) =>
    SYMPTOM_IDS.filter((symptom) => canShow(part.mechanism, symptom)).map((what) => ({
      ...findingAt(part, what),
      what,
    })),
  ),
  ...SYMPTOM_IDS.map((what) => ({ ...findingAt("fixture", what), what })),
];

/** What every moving light has, whatever its functions. */
const ALWAYS_THERE: readonly MechanismId[] = [
  "yoke-loom",
  "light-engine",
  "optics",
  "cooling",
  "power-supply",
  "control",
  "chassis",
];

/** The mechanisms of a fixture, with those that every fixture has. */
export const mechanismsOf = (fitted: readonly Fitted[]): ReadonlySet<MechanismId> =>
  new Set([...fitted.map(({ mechanism }) => mechanism), ...ALWAYS_THERE]);
