import { parseProfile } from "../../../../../src/data/profile/parse.ts";
import type { Profile, Raw } from "../../../../../src/data/profile/profile.ts";
import type { FunctionId } from "../../../../../src/domain/trade/functions.ts";
import { sampleRest } from "../../../../../src/plan/sample.ts";
import { Fixture } from "../../../../../src/sim/fixture.ts";
import type { PartScene, Scene } from "../../../../../src/sim/scene.ts";
import { must } from "../../../../kit/shipped.ts";
import { importOf } from "./imported.ts";
import { sampleArchive } from "./sample.ts";
import { SIMULATED } from "./simulated.ts";

export const MODES = ["Basic", "Extended", "Cells"] as const;
export type SampleMode = (typeof MODES)[number];

/** The simulated fixture of a mode, built from the numbers of the GDTF text, homed; and the profile made of that text. */
export class Stand {
  readonly profile: Profile;
  private readonly fixture: Fixture;

  constructor(mode: SampleMode) {
    this.fixture = new Fixture(SIMULATED[mode]);
    this.profile = must(parseProfile(`${mode}.yaml`, must(importOf(sampleArchive(), mode)).text));
    this.send(sampleRest(this.profile), 6);
  }

  send(slots: Uint8Array, seconds: number): Scene {
    const levels = new Uint8Array(512);
    levels.set(slots);
    let scene = this.fixture.advance(levels);
    for (let n = 1; n < seconds * 40; n++) scene = this.fixture.advance(levels);
    return scene;
  }

  /** One function for three seconds at a value, everything else at rest. */
  put(id: FunctionId, raw: Raw): PartScene {
    // What stands on a wheel turns only with the wheel at one of its places that turn.
    const carrier = id === "Gobo1Pos" ? ([["Gobo1", 128]] as const) : [];
    const rest = new Map<FunctionId, Raw>([...this.profile.rest, ...carrier, [id, raw]]);
    return partIn(this.send(sampleRest({ ...this.profile, rest }), 3), id);
  }
}

export const partIn = (scene: Scene, id: FunctionId): PartScene => {
  const found = scene.parts.find((part) => part.function === id);
  if (!found) throw new Error(`the simulated fixture has no ${id}`);
  return found;
};

/** In the measure of the profile: degrees or percent. */
export const placeOf = (part: PartScene): number => (part.kind === "travel" ? part.physical : part.at * 100);
