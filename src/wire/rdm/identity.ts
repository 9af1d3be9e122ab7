import { ask, isUnknown, troubleWith } from "./ask.ts";
import type { Dialogue } from "./dialogue.ts";
import { NO_TEXT } from "./layout.ts";
import { type Uid, uidText } from "./packet.ts";
import { ALWAYS_SUPPORTED, NO_ADDRESS, PARAMETERS, type ParameterName, type Readable } from "./parameters.ts";

/** Who a fixture says it is, and how it is set. Texts are empty where it says none. */
export interface FixtureIdentity {
  /** "7FF0:00000002". */
  readonly uid: string;
  readonly maker: string;
  readonly model: string;
  readonly label: string;
  readonly software: string;
  readonly serial: string;
  /** Undefined for what takes no slots, and where it did not say. */
  readonly address: number | undefined;
  readonly mode: FixtureMode | undefined;
  /** How many sensors it has. */
  readonly sensors: number;
  /** Parameters that it says it knows, by number. */
  readonly supported: readonly number[];
  /** What could not be read or believed, a sentence each. */
  readonly troubles: readonly string[];
}

interface FixtureMode {
  /** Counted from 1, of `count`. */
  readonly number: number;
  readonly count: number;
  readonly name: string;
  readonly slots: number;
}

/** Asks one fixture after the other and collects what could not be read: one question that fails spoils no other. */
export class Inquiry {
  readonly uid: Uid;
  readonly troubles: string[] = [];
  private silences = 0;

  constructor(uid: Uid) {
    this.uid = uid;
  }

  /** It answered nothing several times in a row: it was unplugged or switched off in the middle. */
  get isGone(): boolean {
    return this.silences >= MOST_SILENCES;
  }

  /** The value, or undefined with the trouble noted; a parameter that the fixture does not know is no trouble. */
  *read<Asked, Answer>(parameter: Readable<Asked, Answer>, asked: Asked): Dialogue<Answer | undefined> {
    if (this.isGone) return undefined;
    const answer = yield* ask(this.uid, parameter, asked);
    this.silences = answer.kind === "silent" ? this.silences + 1 : 0;
    if (answer.kind === "value") return answer.value;
    const trouble = troubleWith(parameter, answer);
    if (trouble !== undefined && !isUnknown(answer)) this.troubles.push(trouble);
    if (this.isGone) this.troubles.push("It stopped answering: unplugged, or switched off?");
    return undefined;
  }

  /** Reads a parameter that is a text; "" where there is none. Bytes that are no text are noted under `name`. */
  *text(parameter: Readable<undefined, string>, name: ParameterName): Dialogue<string> {
    const said = (yield* this.read(parameter, undefined)) ?? "";
    if (said.includes(NO_TEXT)) this.troubles.push(`${name}: holds bytes that are no text`);
    return said;
  }
}

const MOST_SILENCES = 2;

/** Reads who a fixture is and how it is set (DEVICE_INFO of ANSI E1.20 and its labels). About ten requests. */
export function* readIdentity(uid: Uid): Dialogue<FixtureIdentity> {
  const inquiry = new Inquiry(uid);
  const info = yield* inquiry.read(PARAMETERS.DEVICE_INFO, undefined);
  const listed = (yield* inquiry.read(PARAMETERS.SUPPORTED_PARAMETERS, undefined)) ?? [];
  const knows = (name: ParameterName) => ALWAYS_SUPPORTED.includes(name) || listed.includes(PARAMETERS[name].pid);
  function* text(name: TextName): Dialogue<string> {
    return knows(name) ? yield* inquiry.text(PARAMETERS[name], name) : "";
  }
  const described = info && knows("DMX_PERSONALITY_DESCRIPTION");
  const mode = described ? yield* inquiry.read(PARAMETERS.DMX_PERSONALITY_DESCRIPTION, info.personality) : undefined;
  return {
    uid: uidText(uid),
    maker: yield* text("MANUFACTURER_LABEL"),
    model: yield* text("DEVICE_MODEL_DESCRIPTION"),
    label: yield* text("DEVICE_LABEL"),
    software: yield* text("SOFTWARE_VERSION_LABEL"),
    serial: yield* text("SERIAL_NUMBER"),
    address: info && info.address !== NO_ADDRESS ? info.address : undefined,
    mode: info && {
      number: info.personality,
      count: info.personalities,
      name: mode?.text ?? "",
      slots: info.slots,
    },
    sensors: info?.sensors ?? 0,
    supported: listed,
    troubles: inquiry.troubles,
  };
}

type TextName =
  | "MANUFACTURER_LABEL"
  | "DEVICE_MODEL_DESCRIPTION"
  | "DEVICE_LABEL"
  | "SOFTWARE_VERSION_LABEL"
  | "SERIAL_NUMBER";
