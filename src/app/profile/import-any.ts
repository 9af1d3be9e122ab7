import { statSync } from "node:fs";
import { directoryOf, MOST_PACKED, sceneIn, unpacked, type ZipEntry } from "../../data/profile/gdtf/archive.ts";
import { type RackScene, rackFromScene, type SceneFixture, sceneFrom } from "../../data/rack/from-scene.ts";
import { bad, good, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { libraryFolder } from "../../io/systems.ts";
import { complain, deliver, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { rackNameFrom } from "../rack/rack-data.ts";
import {
  type Entered,
  enterFile,
  gdtfFilesIn,
  type Library,
  progress,
  readFileOf,
  tellEntered,
} from "./import-many.ts";
import { importProfile } from "./profile-import.ts";

export interface ImportAnyOrder {
  readonly path: string;
  readonly mode: string | undefined;
  readonly out: string | undefined;
  readonly replace: boolean;
}

/** Imports a folder of GDTF files, a scene with such files in it, or one of them. */
export const importAny = ({ path, mode, out, replace }: ImportAnyOrder): ExitCode => {
  const today = new Date().toISOString().slice(0, 10);
  const library = { folder: libraryFolder(process.env), replace, today };
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) return importFolder(path, library);
  if (path.toLowerCase().endsWith(".mvr")) return importScene(path, library, out);
  return importProfile({ file: path, mode, out });
};

/** Enters every GDTF file of a folder into the shop's library, all modes of each. */
const importFolder = (folder: string, library: Library): ExitCode => {
  const files = gdtfFilesIn(folder);
  if (files.length === 0) return refuse([problem(folder, "no GDTF file in this folder")]);
  const entered = files.flatMap((path, n) => {
    progress(n, files.length);
    const file = readFileOf(path);
    const became = { kind: "refused", problems: file.ok ? [] : file.problems } as const;
    return file.ok ? enterFile(library, file.value) : [{ file: path, mode: "", profile: "", became }];
  });
  progress(files.length, files.length);
  tellEntered(entered, library.folder);
  return EXIT.done;
};

/** Enters the modes that a scene uses into the library, and makes a rack file of its fixtures. */
const importScene = (path: string, library: Library, out: string | undefined): ExitCode => {
  const file = readFileOf(path);
  if (!file.ok) return refuse(file.problems);
  const scene = sceneOf(path, file.value.bytes);
  if (!scene.ok) return refuse(scene.problems);
  const { fixtures, notes } = scene.value;
  if (fixtures.length === 0) return refuse([problem(path, "no fixture with a GDTF file in this scene"), ...notes]);
  const entered = enterUsed(library, path, file.value.bytes, fixtures);
  if (out !== undefined) tellEntered(entered, library.folder);
  const made = new Map(
    entered.flatMap(({ file: name, mode, profile, became }) =>
      became.kind === "refused" ? [] : [[keyOf(name, mode), profile] as const],
    ),
  );
  const profileOf = ({ spec, mode }: SceneFixture) => made.get(keyOf(spec, mode));
  const left = fixtures.filter((fixture) => profileOf(fixture) === undefined);
  for (const one of notes) complain(safeText(`${one.source}: ${one.message}`));
  const unpatched = fixtures.filter(({ patch }) => patch === undefined).length;
  if (unpatched > 0)
    complain(
      `${unpatched} of ${fixtures.length} fixtures have no address in the scene: limber rack address proposes them.`,
    );
  for (const { name, number, spec, mode } of left)
    complain(safeText(`${number}, ${name}: left out, there is no profile of ${spec}, mode ${mode}`));
  const rack = rackFromScene(rackNameFrom(out ?? path), scene.value, profileOf);
  if (rack === undefined)
    return refuse([problem(path, "no fixture of this scene has a profile: nothing to make a rack of")]);
  if (out !== undefined) print(`\n${fixtures.length - left.length} of ${fixtures.length} fixtures in the rack.`);
  return deliver(rack, out);
};

const sceneOf = (path: string, bytes: Uint8Array): Result<RackScene> => {
  const text = sceneIn(path, bytes);
  if (!text.ok) return text;
  const scene = sceneFrom(`${path}, GeneralSceneDescription.xml`, text.value.text);
  return scene.ok ? good({ ...scene.value, notes: [...text.value.notes, ...scene.value.notes] }) : scene;
};

const keyOf = (file: string, mode: string): string => `${file.replace(/\.gdtf$/i, "").toLowerCase()}\n${mode}`;

const enterUsed = (
  library: Library,
  path: string,
  bytes: Uint8Array,
  fixtures: readonly SceneFixture[],
): readonly Entered[] => {
  const directory = directoryOf(path, bytes);
  const specs = [...new Set(fixtures.map(({ spec }) => spec))];
  return specs.flatMap((spec, n) => {
    progress(n, specs.length);
    const modes = new Set(fixtures.filter((one) => one.spec === spec).map(({ mode }) => mode));
    const inside = directory.ok ? fileIn(path, directory.value, spec) : directory;
    if (n === specs.length - 1) progress(specs.length, specs.length);
    return inside.ok
      ? enterFile(library, { name: spec, bytes: inside.value }, (mode) => modes.has(mode))
      : [{ file: spec, mode: "", profile: "", became: { kind: "refused", problems: inside.problems } as const }];
  });
};

/** Scenes name a file with its ending or without. */
const fileIn = (path: string, entries: readonly ZipEntry[], spec: string): Result<Uint8Array> => {
  const wanted = [spec, `${spec}.gdtf`].map((name) => name.toLowerCase());
  const entry = entries.find(({ name }) => wanted.includes(name.toLowerCase()));
  return entry ? unpacked(path, entry, MOST_PACKED) : bad(missing(path, spec));
};

const missing = (path: string, spec: string): Problem => problem(path, `"${spec}" is not in this scene`);
