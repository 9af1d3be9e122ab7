import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import type { Observation } from "../../diagnosis/model/observation.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import { type SensorReading, sensorState } from "../../wire/rdm/fixture.ts";
import type { StatusMessage } from "../../wire/rdm/parameters.ts";
import { functionsMeant, isAboutPart, isCleared, STATUS_KINDS } from "../../wire/rdm/status.ts";
import type { FixtureSaid } from "./fixture-said.ts";

/** How what a fixture says of itself counts as a symptom, and why. A fixture believes what it does not measure: silence proves nothing. */
interface SaidLink {
  readonly symptom: SymptomId;
  readonly because: string;
  readonly origin: string;
}

const PRACTICE = "common practice, no source";
const link = (symptom: SymptomId, because: string): SaidLink => ({ symptom, because, origin: PRACTICE });

/** What a status message counts as, by its name in the standard. What is not here is shown and counts for nothing. */
export const STATUS_LINKS: Readonly<Record<string, SaidLink>> = {
  CAL_FAIL: link("keeps-homing", "it searched for its home and gave up"),
  INDEX_ERROR: link("keeps-homing", "the mark that it counts from did not come by"),
  FEEDBACK_ERROR: link("wrong-place", "the position it reads back is not the commanded one"),
  SENS_NOT_FOUND: link("keeps-homing", "the sensor that marks its home does not answer: it searches and gives up"),
  SENS_ALWAYS_ON: link("keeps-homing", "the sensor that marks its home never lets go: it cannot run off it and back"),
  LAMP_DOUSED: link("light-out", "it saw its own light go out"),
  LAMP_STRIKE: link("no-strike", "it tried to light up and saw no light"),
  OVERTEMP: link("cuts-out", "above its limit it cuts the light, sooner or later"),
  EEPROM_ERROR: link("forgets-settings", "its memory holds the settings"),
  RAM_ERROR: link("error-shown", "its electronics fail their own test"),
  FPGA_ERROR: link("error-shown", "its electronics fail their own test"),
};

/** What a kind of sensor counts as, when it is off the fixture's own normal range on this side. */
export const SENSOR_LINKS: readonly (SaidLink & {
  readonly kind: SensorReading["kind"];
  readonly side: "below" | "above";
})[] = [
  { kind: "temperature", side: "above", ...link("cuts-out", "above its limit it cuts the light, sooner or later") },
  { kind: "speed", side: "below", ...link("fan-still", "what turns in a fixture and is measured is a fan") },
];

/** A setting that makes it do what nobody expects. */
export const SETTING_LINKS = [
  { name: "PAN_INVERT", function: "Pan", ...link("inverted", "it is set so in its menu") },
  { name: "TILT_INVERT", function: "Tilt", ...link("inverted", "it is set so in its menu") },
  { name: "PAN_TILT_SWAP", function: "Pan", ...link("wrong-thing", "it is set so in its menu") },
] as const;

/** What a fixture said of itself, each as an observation of its own: somebody was told, nobody watched. */
export const saidObservations = (said: FixtureSaid, profile: Profile): readonly Observation[] => {
  const fitted = fittedOf(profile);
  return [
    ...said.status.flatMap((one) => byStatus(one, said, fitted)),
    ...said.sensors.flatMap(bySensor),
    ...SETTING_LINKS.flatMap((one) =>
      said.settings[one.name] === 1
        ? observed(
            one.symptom,
            fitted.find(({ function: id }) => id === one.function),
            COLD,
          )
        : [],
    ),
  ];
};

/** Warnings and errors; below them is advice. */
const WARNING = 3;
/** Minutes since the light came on that go with a report: heat belongs to a light that burned. */
const COLD = 0;
const HOT = 20;

/** What a message counts as; undefined for advice, for what is over, and for what says nothing of a fault. */
export const statusLink = (message: StatusMessage): SaidLink | undefined =>
  isCleared(message) || message.type < WARNING ? undefined : STATUS_LINKS[STATUS_KINDS.get(message.id)?.name ?? ""];

const byStatus = (
  message: StatusMessage,
  { slots, sensors }: FixtureSaid,
  fitted: readonly Fitted[],
): readonly Observation[] => {
  const kind = STATUS_KINDS.get(message.id);
  const known = statusLink(message);
  if (!kind || !known) return [];
  const meant: readonly FunctionId[] = functionsMeant(
    message,
    slots,
    sensors.map(({ name }) => name),
  );
  const on = fitted.find(({ function: id }) => meant.includes(id));
  // A part that means nothing to this profile, or is not named, says only that something is wrong.
  const symptom = isAboutPart(message) && !on ? "error-shown" : known.symptom;
  return observed(symptom, on, kind.name === "OVERTEMP" ? HOT : COLD);
};

const bySensor = (sensor: FixtureSaid["sensors"][number]): readonly Observation[] => {
  const { from, to } = sensor.normal;
  const state = sensorState({ ...sensor, normal: { from, to } });
  const found = SENSOR_LINKS.find(({ kind, side }) => kind === sensor.kind && side === state);
  return found ? observed(found.symptom, undefined, found.kind === "temperature" ? HOT : COLD) : [];
};

const observed = (symptom: SymptomId, on: Fitted | undefined, litMinutes: number): readonly Observation[] => [
  {
    routine: "power-up",
    functions: on ? [on] : [],
    result: "fail",
    symptoms: [{ symptom, function: on?.function }],
    watched: "attended",
    litMinutes,
    attitude: "standing",
    movements: 1,
  },
];
