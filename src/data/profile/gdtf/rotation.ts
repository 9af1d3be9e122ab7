import { type BandFile, bandOver, completed, type Piece, piecesOf } from "./bands.ts";
import type { Claim } from "./claims.ts";
import { type Drafted, type NotDrafted, rounded } from "./drafted.ts";

/** A gobo or prism on its own axle: angles in degrees, turning in degrees a second, which become turns a minute. */
export const rotationFrom = ({ channel, parts }: Claim): Drafted | NotDrafted => {
  const bytes = channel.slots.length;
  const bands = parts.flatMap((part) =>
    part.role === "index"
      ? bandOver(part, bytes, "index").map((band) => ({ ...band, ...degrees(part) }))
      : piecesOf(part).flatMap((piece) => turningOf(piece, bytes)),
  );
  const [coarse] = channel.slots;
  if (bands.length === 0 || coarse === undefined) return { why: "no stretch of it says what it does" };
  return { spec: { slots: [coarse], bands: [...completed(bands)] }, remarks: [], measure: [] };
};

const degrees = ({ physical: [from, to] }: Pick<Piece, "physical">): Partial<BandFile> => ({
  from_deg: rounded(from),
  to_deg: rounded(to),
});

/** A turn a minute is 6 degrees a second. */
const DEGREES_A_SECOND = 6;

/** Where the speed passes through nothing there is a stop, and turning the one way before it, the other way after it. */
const turningOf = ({ from, to, physical: [start, end] }: Piece, bytes: number): readonly BandFile[] => {
  const [span] = bandOver({ from, to }, bytes, "turn");
  if (!span) return [];
  if (start === 0 && end === 0) return [{ ...span, is: "stop" }];
  if (start * end > 0 || span.from === span.to) return [{ ...span, from_rpm: rpm(start), to_rpm: rpm(end) }];
  const speedAt = (level: number): number => start + ((end - start) * (level - span.from)) / (span.to - span.from);
  const still = Math.round(span.from + ((span.to - span.from) * -start) / (end - start));
  const stretches = [
    { from: span.from, to: still - 1 },
    { from: still + 1, to: span.to },
  ].filter((stretch) => stretch.from <= stretch.to);
  return [
    { from: still, to: still, is: "stop" },
    ...stretches.map(
      (stretch): BandFile => ({
        ...stretch,
        is: "turn",
        from_rpm: rpm(speedAt(stretch.from)),
        to_rpm: rpm(speedAt(stretch.to)),
      }),
    ),
  ];
};

const rpm = (degreesASecond: number): number => rounded(degreesASecond / DEGREES_A_SECOND);
