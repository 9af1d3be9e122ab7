import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { DataLibrary, LibraryKind } from "../../run/ports.ts";
import { libraryFolder } from "../systems.ts";

/** The data files that come with Limber, the shop's own library of profiles, and any file a person names by its path. */
export const fileLibrary = (root: string = SHIPPED): DataLibrary => {
  const library = libraryFolder(process.env);
  const foldersOf = (kind: LibraryKind) => (kind === "profiles" ? [join(root, kind), library] : [join(root, kind)]);
  return {
    names: (kind) => [...new Set(foldersOf(kind).flatMap(namesIn))].toSorted(),
    read: (kind, name) => {
      const folder = foldersOf(kind).find((one) => namesIn(one).includes(name));
      const file = isPath(name) ? name : folder && join(folder, `${name}.yaml`);
      return file && isFile(file) ? { file: shown(file), text: readFileSync(file, "utf8") } : undefined;
    },
  };
};

/** The shop's own profile of this name, as a file that may be changed; undefined for a shipped one, or a path. */
export const libraryFile = (name: string): string | undefined => {
  const file = join(libraryFolder(process.env), `${name}.yaml`);
  return isPath(name) || namesIn(join(SHIPPED, "profiles")).includes(name) || !isFile(file) ? undefined : file;
};

/** The way from a data file to the schema that an editor checks it by. */
export const schemaFor = (file: string): string => {
  const schema = join(SHIPPED, "profiles", "profile.schema.json");
  const near = relative(dirname(resolve(file)), schema).replaceAll("\\", "/");
  return near.startsWith("../../../") ? schema : near.startsWith("../") ? near : `./${near}`;
};

/** The nearest folder above this file that holds the package: the same from the sources and from a bundle. */
const packageFolder = (folder: string): string =>
  existsSync(join(folder, "package.json")) || dirname(folder) === folder ? folder : packageFolder(dirname(folder));

const SHIPPED = packageFolder(dirname(fileURLToPath(import.meta.url)));

/** A file that comes with Limber, by its place in the package. */
export const shippedFile = (...place: readonly string[]): string => join(SHIPPED, ...place);

const isFile = (file: string): boolean => statSync(file, { throwIfNoEntry: false })?.isFile() ?? false;

const isPath = (name: string): boolean => name.includes("/") || name.includes("\\") || /\.ya?ml$/.test(name);

const namesIn = (folder: string): readonly string[] =>
  existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith(".yaml"))
        .map((name) => basename(name, ".yaml"))
        .toSorted()
    : [];

/** The shorter of the two ways to name a file. */
const shown = (file: string): string => {
  const near = relative(process.cwd(), file);
  return near.length < file.length ? near : file;
};
