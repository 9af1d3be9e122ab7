import { bad, good, type Problem, problem, type Result } from "../../../domain/problem/problem.ts";
import { directoryOf, unpacked, type ZipEntry } from "./zip.ts";

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
