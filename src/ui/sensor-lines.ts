import { safeText } from "../domain/problem/shown-text.ts";
import { sensorDrawn, sensorsDrawn } from "../reports/fixture-said.ts";
import type { RunView } from "../run/events/view.ts";
import { type SensorReading, sensorState, sensorText } from "../wire/rdm/fixture.ts";
import { type Line, said } from "./view.ts";

/** What the fixture's own sensors say while it is at work: each as it was asked last, then how it went since the first time. */
export const sensorLines = (view: Followed): readonly Line[] => {
  const last = view.said.at(-1);
  if (!last || view.followed.length === 0) return [];
  return [
    ...sensorsNow(view).flatMap((sensor) =>
      isOff(sensor) ? alarm(sensor) : said(safeText(sensorText(sensor)), "plain", 1),
    ),
    ...sensorsDrawn(last, view.followed).flatMap((words) => said(safeText(words), "plain", 1)),
  ];
};

/**
 * What the sensors of one of many fixtures say, in a few words: what is off its range first, with how it
 * went. "! Head fan 0 rpm [*+ ], Head 58 C".
 */
export const sensorsInBrief = (view: Followed): string => {
  const all = sensorsNow(view);
  const [first, ...others] = [...all.filter(isOff), ...all.filter((sensor) => !isOff(sensor))];
  if (!first) return "";
  return [
    [inBrief(first), sensorDrawn(first.number, view.followed)].filter(Boolean).join(" "),
    ...others.map(inBrief),
  ].join(", ");
};

/** What is off its range in one of many fixtures, with the fixture's name; nothing where all is well. */
export const sensorAlarms = (view: Followed, serial: string): readonly Line[] =>
  sensorsNow(view)
    .filter(isOff)
    .flatMap((sensor) => alarm(sensor, serial));

type Followed = Pick<RunView, "said" | "followed">;

/** Every sensor as it was asked last; none before they were followed. */
const sensorsNow = ({ said: told, followed }: Followed): readonly SensorReading[] => {
  const latest = followed.at(-1);
  if (!latest) return [];
  return (told.at(-1)?.sensors ?? []).map((sensor) => ({
    ...sensor,
    normal: { from: sensor.normal.from, to: sensor.normal.to },
    value: latest.values.find(({ number }) => number === sensor.number)?.value ?? sensor.value,
  }));
};

const isOff = (sensor: SensorReading): boolean => ["below", "above"].includes(sensorState(sensor));

const alarm = (sensor: SensorReading, serial = ""): readonly Line[] =>
  said(`! ${safeText(`${serial} ${sensorText(sensor)}`.trim())}`, "alert", 2);

const inBrief = (sensor: SensorReading): string =>
  `${isOff(sensor) ? "! " : ""}${sensor.name} ${sensor.value} ${sensor.unit}`.trimEnd();
