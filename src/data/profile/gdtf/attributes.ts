import { FUNCTION_IDS, type FunctionId } from "../../../domain/trade/functions.ts";

/** What a GDTF attribute is to one of our functions: the same words, other parts of it. */
export interface Part {
  readonly id: FunctionId;
  readonly role: Role;
}

export type Role = "travel" | "leaf" | "strobe" | "wheel" | "index" | "turn" | "reset" | "command";

/** The part that an attribute has in one of our functions; undefined for what Limber does not drive (DIN SPEC 15800, annex A). */
export const partOf = (attribute: string): Part | undefined => {
  const more = FURTHER[attribute];
  if (more) return more;
  const id = FUNCTION_IDS.find((known) => known === attribute);
  return id && { id, role: roleOf(id) };
};

/** Attributes that are another part of a function. */
const FURTHER: Readonly<Record<string, Part>> = {
  Shutter1Strobe: { id: "Shutter1", role: "strobe" },
  Gobo1PosRotate: { id: "Gobo1Pos", role: "turn" },
  Gobo2PosRotate: { id: "Gobo2Pos", role: "turn" },
  Prism1PosRotate: { id: "Prism1Pos", role: "turn" },
  FixtureGlobalReset: { id: "Control1", role: "reset" },
};

const roleOf = (id: FunctionId): Role => ROLES[id] ?? "travel";

const ROLES: Readonly<Partial<Record<FunctionId, Role>>> = {
  Shutter1: "leaf",
  Prism1: "leaf",
  Frost1: "leaf",
  Color1: "wheel",
  Color2: "wheel",
  Gobo1: "wheel",
  Gobo2: "wheel",
  AnimationWheel1: "wheel",
  Gobo1Pos: "index",
  Gobo2Pos: "index",
  Prism1Pos: "index",
  Control1: "command",
  LampControl: "command",
  Fans: "command",
};
