import { Inflate } from "fflate";
import { bad, good, type Problem, problem, type Result } from "../../../domain/problem/problem.ts";

/** A text out of an archive, and what was unusual about how it was packed. */
export interface Unpacked {
  readonly text: string;
  readonly notes: readonly Problem[];
}

/**
 * The text of `description.xml` out of a GDTF archive (DIN SPEC 15800). Nothing else in the archive is unpacked and no
 * path in it is used. A description in a folder, or spelled with capitals, is taken and told. Refused where there is
 * none, or where it cannot be unpacked.
 */
export const descriptionIn = (source: string, archive: Uint8Array): Result<Unpacked> =>
  textIn(source, archive, "description.xml");

/** The text of `GeneralSceneDescription.xml` out of an MVR scene (DIN SPEC 15801), or why it cannot be unpacked. */
export const sceneIn = (source: string, archive: Uint8Array): Result<Unpacked> =>
  textIn(source, archive, "GeneralSceneDescription.xml");

/** The text of the largest fixtures stays well under this. */
const MOST_UNPACKED = 8 * 1024 * 1024;

const textIn = (source: string, archive: Uint8Array, wanted: string): Result<Unpacked> => {
  const directory = directoryOf(source, archive);
  if (!directory.ok) return directory;
  const found = foundBy(directory.value, wanted);
  const [entry] = found;
  if (entry === undefined) return bad(problem(source, `no ${wanted} in the archive`));
  const data = unpacked(source, entry, MOST_UNPACKED);
  if (!data.ok) return data;
  const { text, note } = textOf(data.value);
  const notes = [
    entry.name === wanted ? undefined : `"${entry.name}" is read as ${wanted}, which belongs at the root`,
    found.length > 1 ? `${found.length} entries could be ${wanted}: "${entry.name}" is read` : undefined,
    note && `${wanted} ${note}`,
  ];
  return good({ text, notes: notes.flatMap((words) => (words ? [problem(source, words)] : [])) });
};

/** The one at the root first, then the least deep. What an archive keeps for its own use is none. */
const foundBy = (entries: readonly ZipEntry[], wanted: string): readonly ZipEntry[] => {
  const called = entries.filter(({ name }) => {
    const lower = name.toLowerCase();
    return (lower === wanted.toLowerCase() || lower.endsWith(`/${wanted.toLowerCase()}`)) && !/(^|\/)[._]/.test(name);
  });
  const depth = ({ name }: ZipEntry): number => (name === wanted ? -1 : name.split("/").length);
  return called.toSorted((a, b) => depth(a) - depth(b));
};

/** UTF-8, as the standard has it; another encoding is told. Zero bytes behind the end are dropped. */
const textOf = (data: Uint8Array): { readonly text: string; readonly note: string | undefined } => {
  const wide =
    data[0] === 0xff && data[1] === 0xfe ? "utf-16le" : data[0] === 0xfe && data[1] === 0xff ? "utf-16be" : "";
  if (wide) return { text: trimmed(new TextDecoder(wide).decode(data)), note: "is UTF-16, not UTF-8" };
  try {
    return { text: trimmed(new TextDecoder("utf-8", { fatal: true }).decode(data)), note: undefined };
  } catch {
    return {
      text: trimmed(new TextDecoder("windows-1252").decode(data)),
      note: "is not UTF-8: read as western European text, so names may look wrong",
    };
  }
};

const trimmed = (text: string): string => text.replace(/>\s*\0[\0\s]*$/, ">");

/** One entry of a zip archive as its directory tells it; nothing of it is believed before it is checked. */
export interface ZipEntry {
  /** With "/" between folders, however it was packed. */
  readonly name: string;
  readonly encrypted: boolean;
  /** 0 stored, 8 deflated. */
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  /** The packed bytes; undefined when they do not lie inside the archive. */
  readonly bytes: Uint8Array | undefined;
}

/** Models and pictures make an archive large; a scene holds one archive for every kind of fixture in it. */
export const MOST_PACKED = 128 * 1024 * 1024;
/** A fixture has some dozens of pictures and models; thousands are no fixture. */
const MOST_ENTRIES = 4096;
const megabytes = (bytes: number): number => Math.ceil(bytes / 1024 / 1024);

/** The directory at the end of a zip archive (PKWARE APPNOTE 4.3.12, 4.3.16); zip64 and split archives are refused. */
export const directoryOf = (source: string, archive: Uint8Array): Result<readonly ZipEntry[]> => {
  if (archive.length > MOST_PACKED)
    return bad(problem(source, `${megabytes(archive.length)} MB`, `at most ${megabytes(MOST_PACKED)} MB are read`));
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const end = endRecord(view);
  if (end === undefined) return bad(problem(source, "not a zip archive, or cut off", "a GDTF file is a zip archive"));
  const count = view.getUint16(end + 10, true);
  const from = view.getUint32(end + 16, true);
  if (count === 0xffff || from === 0xffffffff)
    return bad(problem(source, "a zip64 archive, far too large for a fixture"));
  if (count > MOST_ENTRIES) return bad(problem(source, `${count} entries in the archive`, `at most ${MOST_ENTRIES}`));
  const entries: ZipEntry[] = [];
  for (let at = from, n = 0; n < count; n++) {
    if (!isRecord(view, at, CENTRAL, 46))
      return bad(problem(source, `the archive's directory breaks off at entry ${n + 1}`));
    const { entry, length } = entryAt(view, archive, at);
    entries.push(entry);
    at += length;
  }
  return good(entries);
};

const END = 0x06054b50;
const CENTRAL = 0x02014b50;
const LOCAL = 0x04034b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 0xffff;

const isRecord = (view: DataView, at: number, signature: number, length: number): boolean =>
  at + length <= view.byteLength && view.getUint32(at, true) === signature;

const endRecord = (view: DataView): number | undefined => {
  const last = view.byteLength - END_LENGTH;
  for (let at = last; at >= 0 && at >= last - LONGEST_COMMENT; at--) if (view.getUint32(at, true) === END) return at;
  return undefined;
};

const entryAt = (
  view: DataView,
  archive: Uint8Array,
  at: number,
): { readonly entry: ZipEntry; readonly length: number } => {
  const short = (offset: number): number => view.getUint16(at + offset, true);
  const long = (offset: number): number => view.getUint32(at + offset, true);
  const nameLength = short(28);
  const packed = long(20);
  const entry = {
    name: new TextDecoder().decode(archive.subarray(at + 46, at + 46 + nameLength)).replaceAll("\\", "/"),
    encrypted: (short(8) & 1) !== 0,
    method: short(10),
    crc: long(16),
    packed,
    size: long(24),
    bytes: bytesOf(view, archive, long(42), packed),
  };
  return { entry, length: 46 + nameLength + short(30) + short(32) };
};

const bytesOf = (view: DataView, archive: Uint8Array, at: number, packed: number): Uint8Array | undefined => {
  if (!isRecord(view, at, LOCAL, 30)) return undefined;
  const start = at + 30 + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
  return start + packed <= archive.length ? archive.subarray(start, start + packed) : undefined;
};

/**
 * The bytes of one entry. Its size is bounded before a byte is unpacked; length and checksum must then agree. Refused where
 * it is larger, or where the archive is damaged.
 *
 * @param source what the archive is called in words to people
 * @param most bytes that are taken when unpacked
 */
export const unpacked = (source: string, entry: ZipEntry, most: number): Result<Uint8Array> => {
  const { name, method, bytes = new Uint8Array(), size, crc } = entry;
  const wrong = refusal(entry, most);
  if (wrong) return bad(problem(source, `${name} ${wrong}`));
  const data = method === STORED ? bytes : inflated(bytes, size);
  if (data === undefined) return bad(problem(source, `${name} is damaged: it does not unpack to the length it states`));
  return crc32(data) === crc ? good(data) : bad(problem(source, `${name} is damaged: its checksum does not agree`));
};

const STORED = 0;
const DEFLATED = 8;

const refusal = ({ encrypted, method, packed, size, bytes }: ZipEntry, most: number): string | undefined => {
  if (encrypted) return "is encrypted";
  if (method !== STORED && method !== DEFLATED)
    return `is packed by method ${method}; only stored and deflated are read: unpack the archive and pack it again`;
  if (size > most) return `says it is ${megabytes(size)} MB; at most ${megabytes(most)} are read`;
  if (bytes === undefined) return "does not lie inside the archive";
  return method === STORED && packed !== size ? "is stored with two different lengths" : undefined;
};

/** Piece by piece, and no further than stated: a bomb is left alone as soon as it has told its first lie. */
const inflated = (bytes: Uint8Array, size: number): Uint8Array | undefined => {
  const data = new Uint8Array(size);
  let length = 0;
  const stream = new Inflate((piece) => {
    if (length + piece.length <= size) data.set(piece, length);
    length += piece.length;
  });
  try {
    for (let at = 0; at < bytes.length && length <= size; at += PIECE)
      stream.push(bytes.subarray(at, at + PIECE), at + PIECE >= bytes.length);
  } catch {
    return undefined;
  }
  return length === size ? data : undefined;
};
/** Deflated data grows a thousandfold at most. */
const PIECE = 4096;

/** CRC-32 of bytes as zip archives carry it (ISO-HDLC: "123456789" gives cbf43926). */
export const crc32 = (bytes: Uint8Array): number => {
  let rest = 0xffffffff;
  for (const byte of bytes) rest = (TABLE[(rest ^ byte) & 0xff] as number) ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
};

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});
