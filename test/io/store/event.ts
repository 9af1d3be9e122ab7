import type { RunEvent } from "../../../src/run/events/event.ts";

/** A small event, told from others by its id. */
export const event = (id: string, more: Partial<RunEvent> = {}): RunEvent => ({
  id,
  v: 1,
  bench: "bench one",
  person: "AB",
  at: "2026-11-25T12:00:00.000Z",
  run: "run-1",
  body: { kind: "pressed", step: "pan sweep", attempt: 1, frame: 40, after_s: 1.02 },
  ...more,
});
