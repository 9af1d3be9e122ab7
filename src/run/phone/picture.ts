/**
 * A photo with nothing in it but the picture: no place, no time, no maker, no hidden second picture. The picture itself is
 * kept bit for bit; what is told in segments (JPEG, ITU-T T.81 annex B) and chunks (PNG, ISO/IEC 15948) beside it is left out.
 */
export type Stripped =
  | { readonly kind: "picture"; readonly type: "jpg" | "png"; readonly bytes: Uint8Array }
  | { readonly kind: "refused"; readonly why: string };

/**
 * A picture without anything but the picture: place, camera and time are taken out. Refused where
 * it is neither JPEG nor PNG, or damaged.
 */
export const stripPicture = (bytes: Uint8Array): Stripped => {
  if (startsWith(bytes, JPEG)) return checked("jpg", jpegParts(bytes));
  if (startsWith(bytes, PNG)) return checked("png", pngParts(bytes));
  return { kind: "refused", why: "only JPEG and PNG pictures are taken" };
};

/** Start of image, and the first byte of the marker after it. */
const JPEG = [0xff, 0xd8, 0xff];
const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean =>
  start.every((byte, at) => bytes[at] === byte);

const checked = (type: "jpg" | "png", parts: readonly Uint8Array[] | undefined): Stripped => {
  if (!parts) return { kind: "refused", why: "this picture is cut short or damaged" };
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return { kind: "picture", type, bytes };
};

const MARKER = { image: 0xd8, end: 0xd9, scan: 0xda, app0: 0xe0, adobe: 0xee, lastApp: 0xef, comment: 0xfe } as const;

/** Start, the segments that a decoder needs, every scan, end; whatever lies behind the end is dropped. */
const jpegParts = (bytes: Uint8Array): readonly Uint8Array[] | undefined => {
  const parts: Uint8Array[] = [bytes.subarray(0, 2)];
  let scans = 0;
  for (let at = 2; at + 1 < bytes.length; ) {
    const segment = segmentAt(bytes, at);
    if (!segment) return undefined;
    const { marker, from, until } = segment;
    if (marker === MARKER.end) return scans === 0 ? undefined : [...parts, bytes.subarray(from, until)];
    if (marker === MARKER.scan) scans += 1;
    if (isNeeded(marker)) parts.push(bytes.subarray(from, until));
    else if (marker === MARKER.app0 && parts.length === 1) parts.push(JFIF);
    at = until;
  }
  return undefined;
};

interface Segment {
  readonly marker: number;
  readonly from: number;
  readonly until: number;
}

/** The segment that begins here, a scan with its coded data; undefined where none does. Fill bytes may stand before any marker. */
const segmentAt = (bytes: Uint8Array, start: number): Segment | undefined => {
  let from = start;
  while (bytes[from] === 0xff && bytes[from + 1] === 0xff) from += 1;
  const marker = bytes[from + 1];
  if (bytes[from] !== 0xff || marker === undefined) return undefined;
  if (marker === MARKER.end) return { marker, from, until: from + 2 };
  const length = ((bytes[from + 2] ?? 0) << 8) | (bytes[from + 3] ?? 0);
  const next = from + 2 + length;
  if (length < 2 || next > bytes.length) return undefined;
  return { marker, from, until: marker === MARKER.scan ? scanEnd(bytes, next) : next };
};

/** JFIF 1.2 without density and without a thumbnail. */
const JFIF = Uint8Array.of(0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46, 0, 1, 2, 0, 0, 1, 0, 1, 0, 0);

/** Adobe's segment says how colours are coded: without it some pictures turn green. */
const isNeeded = (marker: number): boolean =>
  marker === MARKER.adobe || ((marker < MARKER.app0 || marker > MARKER.lastApp) && marker !== MARKER.comment);

/** Coded data goes on over stuffed bytes and restart markers, to the next marker that means something. */
const scanEnd = (bytes: Uint8Array, from: number): number => {
  for (let at = from; at + 1 < bytes.length; at++) {
    const after = bytes[at + 1] ?? 0;
    if (bytes[at] === 0xff && after !== 0 && (after < 0xd0 || after > 0xd7)) return at;
  }
  return bytes.length;
};

/** Chunks that make the picture and its colours; all others are told beside it. */
const NEEDED = ["IHDR", "PLTE", "IDAT", "tRNS", "gAMA", "cHRM", "sRGB", "IEND"];

const pngParts = (bytes: Uint8Array): readonly Uint8Array[] | undefined => {
  const parts: Uint8Array[] = [bytes.subarray(0, PNG.length)];
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = PNG.length; at + 12 <= bytes.length; ) {
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    const until = at + 12 + view.getUint32(at);
    if (until > bytes.length) return undefined;
    if (NEEDED.includes(name)) parts.push(bytes.subarray(at, until));
    if (name === "IEND") return parts.length > 3 ? parts : undefined;
    at = until;
  }
  return undefined;
};
