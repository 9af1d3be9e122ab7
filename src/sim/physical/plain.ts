import type { FunctionId } from "../../domain/trade/functions.ts";
import type { MoverTrouble } from "../trouble.ts";
import type { PhysicalFault } from "./fault.ts";

type Hooks = Omit<MoverTrouble, "kind" | "function">;
type Drawn = PhysicalFault["troubles"];

interface Given {
  readonly id: string;
  readonly on: FunctionId;
  readonly words: string;
  readonly aside: boolean;
  readonly hooks: (...given: Parameters<Drawn>) => Hooks;
}

/** A fault of one moving part and nothing else. */
export const moverFault = ({ id, on, words, aside, hooks }: Given): PhysicalFault => ({
  id,
  words,
  on: [on],
  aside,
  troubles: (build, chance) => [{ kind: "mover", function: on, ...hooks(build, chance) }],
});
