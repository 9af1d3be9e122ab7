import { Inflate } from "fflate";
import { bad, good, type Problem, problem, type Result } from "../../../domain/problem/problem.ts";
import { crc32 } from "./crc.ts";
import { directoryOf, type Entry } from "./directory.ts";

/**
 * The text of `description.xml` out of a GDTF archive (DIN SPEC 15800). Nothing else in the archive is unpacked and no
 * path in it is used. Sizes are bounded before a byte is unpacked; length and checksum must then agree.
 */
export const descriptionIn = (source: string, archive: Uint8Array): Result<string> => {
  if (archive.length > MOST_PACKED)
    return bad(problem(source, `${megabytes(archive.length)} MB`, `a GDTF file has at most ${megabytes(MOST_PACKED)}`));
  const directory = directoryOf(source, archive);
  if (!directory.ok) return directory;
  const found = directory.value.filter(({ name }) => name === DESCRIPTION);
  const [entry] = found;
  if (entry === undefined) return bad(missing(source, directory.value));
  if (found.length > 1) return bad(problem(source, `${found.length} entries are called ${DESCRIPTION}`));
  const wrong = refusal(entry);
  return wrong === undefined ? unpacked(source, entry) : bad(problem(source, `${DESCRIPTION} ${wrong}`));
};

const DESCRIPTION = "description.xml";
/** Models and pictures make the archive large; the description of the largest fixtures stays well under its own bound. */
export const MOST_PACKED = 128 * 1024 * 1024;
const MOST_UNPACKED = 8 * 1024 * 1024;
const megabytes = (bytes: number): number => Math.ceil(bytes / 1024 / 1024);

const missing = (source: string, entries: readonly Entry[]): Problem => {
  const elsewhere = entries.find(({ name }) => name.toLowerCase().endsWith(DESCRIPTION));
  const hint = elsewhere ? `"${elsewhere.name}" is not at the root of the archive under that name` : undefined;
  return problem(source, `no ${DESCRIPTION} in the archive`, hint);
};

const refusal = ({ encrypted, method, packed, size, bytes }: Entry): string | undefined => {
  if (encrypted) return "is encrypted";
  if (method !== STORED && method !== DEFLATED)
    return `is packed by method ${method}; only stored and deflated are read`;
  if (size > MOST_UNPACKED) return `says it is ${megabytes(size)} MB; at most ${megabytes(MOST_UNPACKED)} are read`;
  if (bytes === undefined) return "does not lie inside the archive";
  if (method === STORED && packed !== size) return "is stored with two different lengths";
  return undefined;
};
const STORED = 0;
const DEFLATED = 8;

const unpacked = (source: string, { method, bytes = new Uint8Array(), size, crc }: Entry): Result<string> => {
  const data = method === STORED ? bytes : inflated(bytes, size);
  if (data === undefined)
    return bad(problem(source, `${DESCRIPTION} is damaged: it does not unpack to the length it states`));
  if (crc32(data) !== crc) return bad(problem(source, `${DESCRIPTION} is damaged: its checksum does not agree`));
  return textOf(source, data);
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

const textOf = (source: string, data: Uint8Array): Result<string> => {
  try {
    return good(new TextDecoder("utf-8", { fatal: true }).decode(data));
  } catch {
    return bad(problem(source, `${DESCRIPTION} is not UTF-8`, "DIN SPEC 15800 wants UTF-8"));
  }
};
