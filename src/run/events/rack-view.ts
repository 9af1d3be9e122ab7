import type { BodyOf, EventBody } from "./event.ts";
import type { InterfaceIdentity } from "./interface-met.ts";

/** What is known of a rack run after the events so far: who takes part, and where each one listens by now. */
export interface RackView {
  readonly opened: BodyOf<"rack-opened"> | undefined;
  /** In the order of the rack file; who was swapped stands in the place of the one before. */
  readonly members: readonly RackMember[];
  /** Addresses given in the course of the run, by serial. */
  readonly addresses: ReadonlyMap<string, { readonly universe: number; readonly address: number }>;
  /** The interface that carries a universe, as far as it could be told. */
  readonly interfaces: ReadonlyMap<number, InterfaceIdentity>;
  /** What moved when one was asked to, in the order of asking. */
  readonly answers: readonly { readonly asked: string; readonly moved: readonly string[] }[];
  /** Presses for one of several of which it was not said which one, in order. */
  readonly unnamed: readonly BodyOf<"press-unnamed">[];
  /** Runs begun for fixtures of this rack, those that left included. */
  readonly runs: number;
  readonly closed: BodyOf<"run-closed">["how"] | undefined;
  readonly count: number;
}

interface RackMember {
  readonly serial: string;
  readonly run: string;
  readonly state: "here" | "withdrawn";
}

export const emptyRack: RackView = {
  opened: undefined,
  members: [],
  addresses: new Map(),
  interfaces: new Map(),
  answers: [],
  unnamed: [],
  runs: 0,
  closed: undefined,
  count: 0,
};

/** What is known of a rack's run after one more event. */
export const applyToRack = (rack: RackView, body: EventBody): RackView => {
  const next: RackView = { ...rack, count: rack.count + 1 };
  switch (body.kind) {
    case "rack-opened":
      return {
        ...next,
        opened: body,
        members: body.members.map((one) => ({ ...one, state: "here" })),
        runs: body.members.length,
      };
    case "fixture-withdrawn":
      return { ...next, members: changed(rack.members, body.run, (one) => ({ ...one, state: "withdrawn" })) };
    case "fixture-swapped":
      return {
        ...next,
        members: changed(rack.members, body.run, () => ({ ...body.by, state: "here" })),
        runs: rack.runs + 1,
      };
    case "address-set":
      return {
        ...next,
        addresses: new Map([...rack.addresses, [body.serial, { universe: body.universe, address: body.address }]]),
      };
    case "interface-met":
      return { ...next, interfaces: new Map([...rack.interfaces, [body.universe, body.identity]]) };
    case "who-moved":
      return { ...next, answers: [...rack.answers, { asked: body.serial, moved: body.moved }] };
    case "press-unnamed":
      return { ...next, unnamed: [...rack.unnamed, body] };
    case "run-closed":
      return { ...next, closed: body.how };
    default:
      return next;
  }
};

/** What the events of a rack's run say, in the order of writing. */
export const rackViewOf = (bodies: readonly EventBody[]): RackView => bodies.reduce(applyToRack, emptyRack);

const changed = (
  members: readonly RackMember[],
  run: string,
  change: (member: RackMember) => RackMember,
): readonly RackMember[] => members.map((member) => (member.run === run ? change(member) : member));
