import { bad, good, problem, type Result } from "../../../domain/problem/problem.ts";

/** One entry of a zip archive as its directory tells it; nothing of it is believed before it is checked. */
export interface Entry {
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

/** A fixture has some dozens of pictures and models; thousands are no fixture. */
const MOST_ENTRIES = 4096;

/** The directory at the end of a zip archive (PKWARE APPNOTE 4.3.12, 4.3.16); zip64 and split archives are refused. */
export const directoryOf = (source: string, archive: Uint8Array): Result<readonly Entry[]> => {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const end = endRecord(view);
  if (end === undefined) return bad(problem(source, "not a zip archive, or cut off", "a GDTF file is a zip archive"));
  const count = view.getUint16(end + 10, true);
  const from = view.getUint32(end + 16, true);
  if (count === 0xffff || from === 0xffffffff)
    return bad(problem(source, "a zip64 archive, far too large for a fixture"));
  if (count > MOST_ENTRIES) return bad(problem(source, `${count} entries in the archive`, `at most ${MOST_ENTRIES}`));
  const entries: Entry[] = [];
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
): { readonly entry: Entry; readonly length: number } => {
  const short = (offset: number): number => view.getUint16(at + offset, true);
  const long = (offset: number): number => view.getUint32(at + offset, true);
  const nameLength = short(28);
  const packed = long(20);
  const entry = {
    name: new TextDecoder().decode(archive.subarray(at + 46, at + 46 + nameLength)),
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
