import type { Profile } from "../../data/profile/profile.ts";
import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { Frame } from "../../domain/units.ts";
import { darkened, sampler } from "../../plan/sample.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { EventBody } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { Commanded } from "../machine/commanded.ts";
import type { Findings } from "../machine/diagnose.ts";
import type { SharedEffect } from "../machine/running.ts";
import type { SessionEffect } from "../session/change.ts";

/** Where a fixture listens, and what it is. Ganged fixtures share one. */
export interface Spot {
  readonly universe: number;
  /** Start address, 1 to 512. */
  readonly address: number;
  readonly profile: Profile;
}

/** A fixture that was commanded to stand somewhere in an earlier part of its run. */
export interface LeftSpot {
  readonly spot: Spot;
  /** There, and dark. */
  readonly slots: Uint8Array;
}

/** Where a fixture was left, as what is known before the first frame; none where nobody knows it. */
export const leftSpot = (spot: Spot, left: Commanded | undefined): readonly LeftSpot[] =>
  left ? [{ spot, slots: darkened(spot.profile, sampler(spot.profile, left.step)(left.frame)) }] : [];

/** One compiled step for all fixtures of a kind and mode that play it. */
export interface PlayedPart {
  readonly step: CompiledStep;
  readonly spots: readonly Spot[];
}

/** What a person has done at the fixtures themselves: only simulated ones need telling. */
export type Deed =
  | { readonly kind: "mains-on"; readonly serials: readonly string[] }
  | { readonly kind: "mains-off"; readonly serials: readonly string[] }
  | { readonly kind: "mended"; readonly serial: string; readonly fault: FaultId }
  | { readonly kind: "address-set"; readonly serial: string; readonly address: number }
  | { readonly kind: "swapped"; readonly serial: string; readonly by: string };

/** What a run wants of the world, of one fixture or of many. The shell carries it out; outcomes come back as inputs. */
export type RackEffect =
  | SharedEffect
  | {
      readonly kind: "open-line";
      readonly universe: number;
      readonly patience: "once" | "until-open";
      readonly known: InterfaceIdentity | undefined;
    }
  /** All parts from the same frame to the end of the longest; whoever has no part stands still and dark. */
  | { readonly kind: "play"; readonly key: string; readonly parts: readonly PlayedPart[]; readonly from: Frame }
  | { readonly kind: "by-hand"; readonly deed: Deed }
  /** How many events `run` has with this one. */
  | {
      readonly kind: "write";
      readonly run: string;
      readonly body: EventBody;
      readonly person: string;
      readonly count: number;
    }
  /** What may be wrong with one of them, worked out on another thread; `key` comes back with "diagnosed". */
  | { readonly kind: "diagnose"; readonly key: string; readonly findings: Findings };

/** Whose effect it is: a fixture, where it listens, and the name of its run. */
export interface EffectOwner {
  readonly serial: string;
  readonly spot: Spot;
  readonly run: string;
}

/** What one fixture's session wants, as an effect among those of a rack. */
export const lifted = (effect: SessionEffect, { serial, spot, run }: EffectOwner): RackEffect => {
  switch (effect.kind) {
    case "open-line":
      return { ...effect, universe: spot.universe };
    case "play":
      return { kind: "play", key: effect.key, parts: [{ step: effect.step, spots: [spot] }], from: effect.from };
    case "mains-on":
      return { kind: "by-hand", deed: { kind: "mains-on", serials: [serial] } };
    case "mains-off":
      return { kind: "by-hand", deed: { kind: "mains-off", serials: [serial] } };
    case "mended":
      return { kind: "by-hand", deed: { kind: "mended", serial, fault: effect.fault } };
    case "write":
      return { ...effect, run };
    default:
      return effect;
  }
};
