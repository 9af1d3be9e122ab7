import { safeText } from "../domain/problem/terminal.ts";
import { sensorsDrawn } from "../reports/fixture-said.ts";
import type { RunView } from "../run/events/view.ts";
import { sensorState, sensorText } from "../wire/rdm/sensors.ts";
import { type Line, said } from "./view.ts";

/** What the fixture's own sensors say while it is at work: each as it was asked last, then how it went since the first time. */
export const sensorLines = ({ said: told, followed }: Pick<RunView, "said" | "followed">): readonly Line[] => {
  const last = told.at(-1);
  const latest = followed.at(-1);
  if (!last || !latest) return [];
  const now = last.sensors.map((sensor) => ({
    ...sensor,
    normal: { from: sensor.normal.from, to: sensor.normal.to },
    value: latest.values.find(({ number }) => number === sensor.number)?.value ?? sensor.value,
  }));
  return [
    ...now.flatMap((sensor) => {
      const isOff = ["below", "above"].includes(sensorState(sensor));
      return said(`${isOff ? "! " : ""}${safeText(sensorText(sensor))}`, isOff ? "alert" : "plain", isOff ? 2 : 1);
    }),
    ...sensorsDrawn(last, followed).flatMap((words) => said(safeText(words), "plain", 1)),
  ];
};
