import type { EventBody } from "./event.ts";

interface WrittenEvent {
  readonly run: string;
  readonly body: EventBody;
}

/**
 * Which answers were undone, by their index in `events`, from 0: they were never given. An inspection, a
 * cleaning or a measurement is undone by the very next event of its run, several of one answer from the last
 * to the first; a hold point later, too.
 */
export const takenBackIn = (events: readonly WrittenEvent[]): ReadonlySet<number> => {
  if (!events.some(({ body }) => isTakingBack(body))) return NOTHING;
  const takenBack = new Set<number>();
  const standing = new Map<string, number[]>();
  for (const [at, { run, body }] of events.entries()) {
    const before = standing.get(run) ?? [];
    const answer = isTakingBack(body) ? taken(before, events, body) : undefined;
    if (answer === undefined) before.push(at);
    else takenBack.add(before.splice(answer, 1)[0] ?? answer);
    standing.set(run, before);
  }
  return takenBack;
};
const NOTHING: ReadonlySet<number> = new Set();

const KINDS = ["hold-withdrawn", "inspection-corrected", "cleaning-corrected", "reading-corrected"] as const;
type TakingBack = Extract<EventBody, { kind: (typeof KINDS)[number] }>;
const KNOWN: ReadonlySet<string> = new Set(KINDS);
const isTakingBack = (body: EventBody): body is TakingBack => KNOWN.has(body.kind);

/** Where the answer stands among those that still stand; undefined when there is nothing to take back. */
const taken = (standing: readonly number[], events: readonly WrittenEvent[], body: TakingBack): number | undefined => {
  const isMeant = (at: number | undefined): boolean => at !== undefined && isAnswer(events[at]?.body, body);
  const at = body.kind === "hold-withdrawn" ? standing.findLastIndex(isMeant) : standing.length - 1;
  return isMeant(standing[at]) ? at : undefined;
};

const isAnswer = (answer: EventBody | undefined, body: TakingBack): boolean => {
  switch (body.kind) {
    case "hold-withdrawn":
      return answer?.kind === "hold-confirmed" && answer.point === body.point;
    case "inspection-corrected":
      return answer?.kind === "inspected" && answer.inspection === body.inspection;
    case "cleaning-corrected":
      return answer?.kind === "cleaned" && answer.cleaning === body.cleaning;
    case "reading-corrected":
      return answer?.kind === "reading-taken" && answer.reading === body.reading;
    default:
      return body satisfies never;
  }
};

/**
 * What stands of one run's events, without what was undone and without the undoing.
 *
 * @param bodies - in the order of writing; the very same list is given back where nothing was undone
 */
export const standingOnly = (bodies: readonly EventBody[]): readonly EventBody[] => {
  if (!bodies.some(isTakingBack)) return bodies;
  const takenBack = takenBackIn(bodies.map((body) => ({ run: "", body })));
  return bodies.filter((_, at) => !takenBack.has(at));
};
