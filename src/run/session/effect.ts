import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { Frame } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { EventBody } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { SharedEffect } from "../machine/running.ts";
import type { Findings } from "./diagnose.ts";

/** What a session wants of the world. The shell carries effects out; their outcomes come back as inputs. */
export type SessionEffect =
  | SharedEffect
  /** Once at the start, where a failure ends the run; after a loss until it succeeds. */
  | {
      readonly kind: "open-line";
      readonly patience: "once" | "until-open";
      /** The interface that was used before, or that a person has agreed to. */
      readonly known: InterfaceIdentity | undefined;
    }
  /** Play a step from a frame to its end; `key` comes back with "played". */
  | { readonly kind: "play"; readonly key: string; readonly step: CompiledStep; readonly from: Frame }
  /** The person has switched the mains on: only the simulated fixture needs telling. */
  | { readonly kind: "mains-on" }
  /** The person has switched the mains off: only the simulated fixture needs telling. */
  | { readonly kind: "mains-off" }
  /** The person has repaired this: only the simulated fixture needs telling. */
  | { readonly kind: "mended"; readonly fault: FaultId }
  | { readonly kind: "write"; readonly body: EventBody; readonly person: string; readonly count: number }
  /** What may be wrong, worked out on another thread; `key` comes back with "diagnosed". */
  | { readonly kind: "diagnose"; readonly key: string; readonly findings: Findings };
