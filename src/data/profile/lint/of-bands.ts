import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { Hertz, Seconds } from "../../../domain/units.ts";
import type { ReadProfile } from "../parse.ts";
import { type Band, type Banded, type BandMeaning, bandOf } from "../profile.ts";
import { functionsOfKind, type ProfileFinding, type ProfileRule } from "./rule.ts";

/** Something to say about every band of one meaning, at its place in the file. */
const aboutBands = (
  read: ReadProfile,
  is: BandMeaning,
  say: (band: Band, id: FunctionId) => Pick<ProfileFinding, "message" | "instead"> | undefined,
): readonly ProfileFinding[] =>
  functionsOfKind(read, "banded").flatMap(([id, { bands }]) =>
    bands.flatMap((band, index) => {
      const words = band.is === is ? say(band, id) : undefined;
      return words ? [{ path: ["functions", id, "bands", index], ...words }] : [];
    }),
  );

/** Positions round the clock without their angles. */
export const indexWithoutAngle: ProfileRule = {
  name: "index-without-angle",
  why: "Without its angles nobody can say whether a gobo stands at its commanded angle.",
  find: (read) =>
    aboutBands(read, "index", ({ range }) =>
      range
        ? undefined
        : { message: "index without its angles", instead: "from_deg: 0, to_deg: 360, the angles at both ends" },
    ),
};

/** A rotation of which nobody says how fast and which way it is. */
export const turnWithoutSpeed: ProfileRule = {
  name: "turn-without-speed",
  why: "Without its speeds the slow turn that shows a wobble may be a fast one.",
  find: (read) =>
    aboutBands(read, "turn", ({ range }) =>
      range
        ? undefined
        : {
            message: "turn without its speeds",
            instead: "from_rpm: 60, to_rpm: 1, turns a minute at both ends, the other way round with a minus",
          },
    ),
};

/** Turns a minute; faster no gobo or prism turns (judgement). */
const FASTEST_TURN = 300;

/** A rotation faster than rotations are. */
export const turnTooFast: ProfileRule = {
  name: "turn-too-fast",
  why: "Degrees a second taken for turns a minute are six times too fast.",
  find: (read) =>
    aboutBands(read, "turn", ({ range }) => {
      const fastest = Math.max(...(range ?? [0]).map(Math.abs));
      return fastest <= FASTEST_TURN
        ? undefined
        : {
            message: `${fastest} turns a minute`,
            instead: `turns a minute: ${Math.round(fastest / 6)} if the chart counts degrees a second`,
          };
    }),
};

/** A strobe of which nobody says how fast it is. */
export const strobeWithoutSpeed: ProfileRule = {
  name: "strobe-without-speed",
  why: "Only with its flashes a second known can a strobe be kept at or under three in view.",
  find: (read) =>
    aboutBands(read, "strobe", ({ range }) =>
      range
        ? undefined
        : { message: "strobe without its speed", instead: "from_hz: 0.5, to_hz: 15, flashes a second at both ends" },
    ),
};

/** Faster no strobe of a moving light is (judgement). */
const FASTEST_STROBE: Hertz = 35;

/** A strobe faster than strobes are. */
export const strobeTooFast: ProfileRule = {
  name: "strobe-too-fast",
  why: "Flashes a minute or a level taken for flashes a second hide how fast the strobe really is.",
  find: (read) =>
    aboutBands(read, "strobe", ({ range }) => {
      const fastest = Math.max(...(range ?? [0]));
      return fastest <= FASTEST_STROBE
        ? undefined
        : {
            message: `strobe of ${fastest} flashes a second`,
            instead: `flashes a second: ${Math.round(fastest / 6) / 10} if the chart counts them by the minute`,
          };
    }),
};

/** Two commands at one level. */
export const commandsAlike: ProfileRule = {
  name: "commands-alike",
  why: "Whoever asks for the one gets the other: a reset, or the lamp off in the middle of a test.",
  find: (read) =>
    functionsOfKind(read, "commands").flatMap(([id, { commands }]) =>
      commands.flatMap(({ is, at }, index) => {
        const first = commands.slice(0, index).find((other) => other.at === at);
        return first
          ? [
              {
                path: ["functions", id, "commands", index, "at"],
                message: `${is} stands at ${at}, as ${first.is} does`,
                instead: "a level in the middle of the chart's range for it",
              },
            ]
          : [];
      }),
    ),
};

/** Levels of a slot in bands for which no band is given. */
export const levelsWithoutBand: ProfileRule = {
  name: "levels-without-band",
  why: "A gap is where charts are mistyped, and the band beside it is then one or two levels off.",
  find: (read) =>
    functionsOfKind(read, "banded").flatMap(([id, spec]) =>
      gapsIn(spec).map(([from, to]) => ({
        path: ["functions", id, "bands"],
        at: "key" as const,
        message: from === to ? `level ${from} is in no band` : `levels ${from} to ${to} are in no band`,
        instead: `{ from: ${from}, to: ${to}, is: nothing } if the chart says so`,
      })),
    ),
};

const gapsIn = ({ bands }: Banded): readonly (readonly [number, number])[] => {
  const sorted = [...bands].sort((a, b) => a.from - b.from);
  const starts = [0, ...sorted.map(({ to }) => to + 1)];
  const ends = [...sorted.map(({ from }) => from - 1), 255];
  return starts.flatMap((start, index) => {
    const end = ends[index] ?? 255;
    return start <= end ? [[start, end] as const] : [];
  });
};

/** A shutter of which the profile does not say where it is closed. */
export const shutterWithoutClosed: ProfileRule = {
  name: "shutter-without-closed",
  why: "Between steps and at every ending the beam is shut, and only a level for closed does that quickly.",
  find: (read) =>
    functionsOfKind(read, "banded").flatMap(([id, spec]) =>
      id !== "Shutter1" || bandOf(spec, "closed")
        ? []
        : [
            {
              path: ["functions", id, "bands"],
              message: 'no band of the shutter is "closed"',
              instead: "- { from: 0, to: 31, is: closed } with the chart's levels",
            },
          ],
    ),
};

/** A shutter of which the profile does not say where it is open. */
export const shutterWithoutOpen: ProfileRule = {
  name: "shutter-without-open",
  why: "Without a level for open every step that wants light stays dark.",
  find: (read) =>
    functionsOfKind(read, "banded").flatMap(([id, spec]) =>
      id !== "Shutter1" || bandOf(spec, "open")
        ? []
        : [
            {
              path: ["functions", id, "bands"],
              message: 'no band of the shutter is "open"',
              instead: "- { from: 32, to: 63, is: open } with the chart's levels",
            },
          ],
    ),
};

/** Quicker no moving light finds all its homes (judgement). */
const SHORTEST: Seconds = 5;

/** A reset after which the fixture would listen at once. */
export const resetTooShort: ProfileRule = {
  name: "reset-too-short",
  why: "What comes while it still homes is not heard, and the next step is called a fault.",
  find: (read) =>
    functionsOfKind(read, "commands").flatMap(([id, { commands }]) =>
      commands.flatMap(({ is, deaf }, index) =>
        is !== "reset" || deaf >= SHORTEST
          ? []
          : [
              {
                path: ["functions", id, "commands", index, "then_s"],
                message: `listens again ${deaf} s after a reset`,
                instead: `then_s: ${read.profile.powerUp}, as long as after the mains goes on`,
              },
            ],
      ),
    ),
};
