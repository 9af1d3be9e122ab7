import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "./schema.ts";
import { madeProfile, slug } from "./write.ts";

/** What a fixture says of one slot over RDM: SLOT_INFO, and where it has them SLOT_DESCRIPTION and DEFAULT_SLOT_VALUE. */
export interface SlotDescription {
  /** Counted from 0, as RDM counts. */
  readonly offset: number;
  /** 0 primary; 1 the fine byte of another; 2 to 7 its time, speed, control, index or rotation; 255 not said. */
  readonly type: number;
  /** What a primary slot does (ANSI E1.20, table C-2); of another one the offset of its primary. */
  readonly label: number;
  /** In the fixture's own words. */
  readonly words: string | undefined;
  /** Level at which it rests. */
  readonly usual: number | undefined;
}

/** A personality as a fixture describes it. */
export interface DescribedMode {
  /** The fixture's model, in its own words. */
  readonly fixture: string;
  readonly mode: string;
  /** How many slots it takes: its footprint. */
  readonly slots: number;
  readonly described: readonly SlotDescription[];
}

/** A draft of a profile for a fixture that no file exists for, and which slots of it move. */
export interface DraftFromSlots {
  readonly name: string;
  readonly text: string;
  readonly driven: number;
  readonly held: number;
}

/**
 * Makes a draft profile of what a fixture says of its slots over RDM. RDM tells what a slot is for, but neither ranges nor which
 * level does what: travels get usual ends, marked, and slots with bands or positions are held at their default until somebody
 * adds them from the chart. Refused where nothing in it makes the fixture dark.
 */
export const profileFromSlots = (source: string, mode: DescribedMode): Result<DraftFromSlots> => {
  const drafted = travelsIn(mode);
  const held = heldIn(mode, drafted);
  const file = fileOf(mode, drafted, held);
  if (drafted.size === 0)
    return bad(problem(source, "none of its slots is a light, a colour or a movement: no draft can be made"));
  const remarks = {
    schema: "./profile.schema.json",
    about: [
      safeText(`Drafted by Limber from what ${mode.fixture} says of its slots over RDM, mode ${mode.mode}.`),
      "RDM tells what a slot is for; ranges, times, bands and positions are not in it: measure, and add them from the chart.",
    ],
    functions: Object.fromEntries(
      [...drafted.keys()].map((id) => [id, "not said over RDM, measure: ends and full_travel_s"]),
    ),
    frame: { power_up_s: "not said over RDM, measure", lamp: "not said over RDM, measure" },
  };
  const made = madeProfile(`${source}, as a draft`, file, remarks, "From what the fixture says");
  if (!made.ok)
    return bad(...made.problems.map(({ message, hint }) => problem(source, `no draft can be made: ${message}`, hint)));
  return good({
    name: file.profile,
    text: made.value.text,
    driven: [...drafted.values()].reduce((sum, { slots, cells = [] }) => sum + slots.length + cells.flat().length, 0),
    held: held.reduce((sum, { slots }) => sum + slots.length, 0),
  });
};

type TravelFile = Extract<FunctionFile, { full_travel_s: number }>;

/** Each shape of a union without its slots. */
type Slotless<T> = T extends unknown ? Omit<T, "slots"> : never;

/** Slot labels that are a travel between two ends (ANSI E1.20, table C-2; 0211 to 0214 from its later lists, from memory). */
const TRAVELS: ReadonlyMap<number, FunctionId> = new Map([
  [0x0001, "Dimmer"],
  [0x0002, "Dimmer"],
  [0x0101, "Pan"],
  [0x0102, "Tilt"],
  [0x0202, "ColorSub_C"],
  [0x0203, "ColorSub_Y"],
  [0x0204, "ColorSub_M"],
  [0x0205, "ColorAdd_R"],
  [0x0206, "ColorAdd_G"],
  [0x0207, "ColorAdd_B"],
  [0x0208, "CTO"],
  [0x0212, "ColorAdd_W"],
  [0x0401, "Iris"],
  [0x0402, "Focus1"],
  [0x0403, "Frost1"],
  [0x0405, "Zoom"],
]);

/** Labels of slots whose levels mean different things: RDM does not say which. */
const BY_LEVEL: ReadonlyMap<number, string> = new Map([
  [0x0201, "colour wheel"],
  [0x0301, "fixed gobo wheel"],
  [0x0302, "rotating gobo wheel"],
  [0x0303, "prism"],
  [0x0304, "effects"],
  [0x0404, "strobe"],
  [0x0406, "framing"],
  [0x0501, "lamp control"],
  [0x0502, "fixture control"],
  [0x0503, "fixture speed"],
]);

const PRIMARY = 0;
const FINE = 1;

/** Usual ends and times: common practice, no source. */
const USUAL: Readonly<Partial<Record<FunctionId, Slotless<TravelFile>>>> = {
  Pan: { from_deg: -270, to_deg: 270, full_travel_s: 2.6, lag_s: 0.2 },
  Tilt: { from_deg: -135, to_deg: 135, full_travel_s: 1.6, lag_s: 0.2 },
  Zoom: { from_deg: 10, to_deg: 45, full_travel_s: 1.2 },
  Focus1: { from_pct: 0, to_pct: 100, sharp_pct: 55, full_travel_s: 1.2 },
};

/** Functions by their slots, fine ones behind coarse ones; a second slot of one kind is driven with the first. */
const travelsIn = ({ slots, described }: DescribedMode): ReadonlyMap<FunctionId, TravelFile> => {
  const inside = described.filter(({ offset }) => offset >= 0 && offset < slots);
  const drafted = new Map<FunctionId, TravelFile>();
  const taken = new Set<number>();
  for (const { offset, type, label } of inside) {
    const id = type === PRIMARY ? TRAVELS.get(label) : undefined;
    if (id === undefined || taken.has(offset)) continue;
    const fine = inside.filter((other) => other.type === FINE && other.label === offset && other.offset !== offset);
    const own = [
      offset,
      ...fine
        .map((other) => other.offset)
        .filter((one) => !taken.has(one))
        .slice(0, 3),
    ];
    const before = drafted.get(id);
    if (before && before.slots.length !== own.length) continue;
    for (const one of own) taken.add(one);
    const numbers = own.map((one) => one + 1);
    const usual = USUAL[id] ?? { from_pct: 0, to_pct: 100, full_travel_s: 0.5 };
    drafted.set(id, before ? { ...before, cells: [...(before.cells ?? []), numbers] } : { slots: numbers, ...usual });
  }
  return drafted;
};

type HeldFile = NonNullable<ProfileFile["held"]>[number];

const heldIn = (
  { slots, described }: DescribedMode,
  drafted: ReadonlyMap<FunctionId, TravelFile>,
): readonly HeldFile[] => {
  const moved = new Set([...drafted.values()].flatMap((spec) => [...spec.slots, ...(spec.cells ?? []).flat()]));
  return Array.from({ length: slots }, (_, n) => n + 1)
    .filter((slot) => !moved.has(slot))
    .map((slot) => {
      const said = described.find(({ offset }) => offset === slot - 1);
      return { slots: [slot], at: restOf(said), is: safeText(wordsOf(said)) };
    });
};

/** What makes light stays at nothing, whatever its default is. */
const restOf = (said: SlotDescription | undefined): number => {
  const lights = said?.type === PRIMARY && (said.label === 0x0001 || (said.label >= 0x0205 && said.label <= 0x0214));
  return lights ? 0 : Math.min(255, Math.max(0, Math.round(said?.usual ?? 0)));
};

const wordsOf = (said: SlotDescription | undefined): string => {
  if (said === undefined) return "the fixture does not say what it is";
  const own = said.words?.trim() ? `"${said.words.trim()}"` : undefined;
  if (said.type !== PRIMARY) return `${own ?? "a second slot"}: belongs to slot ${said.label + 1}, held`;
  const kind = BY_LEVEL.get(said.label);
  if (kind) return `${own ?? kind}: RDM does not say which level does what`;
  return `${own ?? "unknown"}: nothing that Limber drives by this name`;
};

const fileOf = (
  { fixture, mode, slots }: DescribedMode,
  drafted: ReadonlyMap<FunctionId, TravelFile>,
  held: readonly HeldFile[],
): ProfileFile => ({
  profile: slug(`${fixture} ${mode}`),
  title: safeText(`${fixture}, ${mode}, ${slots} slots`),
  fixture: slug(fixture),
  slots,
  power_up_s: 45,
  lamp: [...drafted.keys()].some((id) => id.startsWith("ColorAdd_"))
    ? { kind: "led", strike_s: 0, warm_s: 0, restrike_s: 0 }
    : { kind: "discharge", strike_s: 6, warm_s: 150, restrike_s: 480 },
  functions: Object.fromEntries(drafted),
  rest: drafted.has("Dimmer") ? { Dimmer: 0 } : {},
  ...(held.length > 0 ? { held: [...held] } : {}),
});
