import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { inTerminal } from "../kit/terminal.ts";

/** Packing, installing from the registry and three other Node versions: as long as the network takes. */
const SLOW = 600_000;
const folder = mkdtempSync(join(tmpdir(), "limber-packed-"));
const prefix = join(folder, "prefix");
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const npm = (...args: readonly string[]): string =>
  execFileSync("npm", [...args, "--no-audit", "--no-fund", "--prefer-offline"], { encoding: "utf8" });

/** As somebody installs it who has no repository and no compiler, and lets no package run scripts. */
beforeAll(() => {
  npm("pack", "--pack-destination", folder);
  const [tarball] = readdirSync(folder).filter((name) => name.endsWith(".tgz"));
  npm("install", "--global", "--ignore-scripts", "--prefix", prefix, join(folder, tarball!));
}, SLOW);

const installed = join(prefix, "lib", "node_modules", "limber");
const environment = { HOME: folder, PATH: process.env["PATH"] ?? "" };
const run = (program: string, ...args: readonly string[]) => {
  const { status, stdout, stderr } = spawnSync(program, args, { cwd: folder, env: environment, encoding: "utf8" });
  return { status, stdout, stderr };
};
const limber = (...args: readonly string[]) => run(join(prefix, "bin", "limber"), ...args);

test("the package holds the program, the data files and nothing else", () => {
  expect(readdirSync(installed).sort()).toEqual(
    [
      "README.md",
      "benches",
      "dist",
      "docs",
      "node_modules",
      "package.json",
      "profiles",
      "racks",
      "sequences",
      "shops",
    ].sort(),
  );
  expect(readdirSync(join(installed, "dist"))).toEqual(["bundle", "guide.html"]);
});

test("it lists all that it brings along, installed and bundled, each with its hash (CycloneDX, by npm's own command)", () => {
  const bill = JSON.parse(readFileSync(join(installed, "dist", "bundle", "sbom.cdx.json"), "utf8")) as {
    readonly bomFormat: string;
    readonly components: readonly { readonly name: string; readonly hashes?: readonly { readonly alg: string }[] }[];
  };
  expect(bill.bomFormat).toBe("CycloneDX");
  const names = bill.components.map(({ name }) => name);
  expect(names).toEqual(
    expect.arrayContaining(["serialport", "@photostructure/sqlite", "ink", "react", "zod", "pg", "dmx-ts"]),
  );
  for (const tool of ["vitest", "typescript", "rolldown", "@biomejs/biome"]) expect(names).not.toContain(tool);
  for (const { hashes } of bill.components) expect(hashes?.map(({ alg }) => alg)).toContain("SHA-512");
});

test("it brings few packages along: what is bundled is not installed once more", () => {
  const packages = readdirSync(join(installed, "node_modules")).flatMap((name) =>
    name.startsWith("@") ? readdirSync(join(installed, "node_modules", name)).map((one) => `${name}/${one}`) : [name],
  );
  expect(packages.filter((name) => !name.startsWith(".")).length).toBeLessThanOrEqual(30);
  for (const bundled of ["ink", "react", "rxjs", "zod", "dmx-ts"]) expect(packages).not.toContain(bundled);
});

/** Every part that is found by its place: data files, the journal's thread, native packages. */
const works = (command: (...args: readonly string[]) => ReturnType<typeof run>) => {
  const journal = join(folder, `journal-${Math.random()}.db`);
  const swept = command(
    ...["sweep", "--profile", "led-wash", "--sequence", "quick", "--watcher", "1", "--fast"],
    ...["--serial", "P-1", "--journal", journal],
  );
  expect({ status: swept.status, stderr: swept.stderr }).toEqual({ status: 0, stderr: "" });
  expect(command("runs", "--journal", journal).stdout).toContain("P-1");
  expect(command("outputs").stdout).toContain("sim");
  expect(command("guide", "files").stdout).toContain("`power_up_s`");
  expect(command("completion", "bash").stdout).toContain("complete -o default");
};

test(
  "installed with scripts off into an empty folder, it finds profiles, sequences, its threads and its native parts",
  () => {
    works(limber);
  },
  SLOW,
);

const nodeOf = (version: number): string => {
  const name = `node-${process.platform}-${process.arch}`;
  const place = join(folder, `node-${version}`);
  npm("install", "--ignore-scripts", "--prefix", place, `${name}@${version}`);
  return join(place, "node_modules", name, "bin", "node");
};

test(
  "an older Node is told in one sentence what is needed",
  () => {
    expect(run(nodeOf(18), join(installed, "dist", "bundle", "main.js"), "--help")).toEqual({
      status: 3,
      stdout: "",
      stderr: expect.stringMatching(/^Limber needs Node 20\.19 or later; this is Node 18\.[\d.]+\.\n$/),
    });
  },
  SLOW,
);

test.each([20, 22, 24])(
  "it runs on Node %i",
  (version) => {
    const node = nodeOf(version);
    expect(existsSync(node)).toBe(true);
    expect(run(node, "--version").stdout).toMatch(new RegExp(`^v${version}\\.`));
    works((...args) => run(node, join(installed, "dist", "bundle", "main.js"), ...args));
  },
  SLOW,
);

test("under a terminal it shows its pages, and stops by its key", async () => {
  const args = [join(prefix, "bin", "limber"), "practice", "--person", "KM", "--rounds", "1"];
  const terminal = inTerminal(args, { cwd: folder, env: { HOME: folder } });
  expect(await terminal.until("BEFORE ANYTHING MOVES")).toContain("C: all of this is confirmed.");
  await terminal.press("c", "SLOW MOVEMENT FIRST");
  terminal.type("s");
  await terminal.ended;
  expect(terminal.output()).toContain("left before its end");
});

test("what sends the frames of real fixtures is in the package too: it says what is wrong with a port", async () => {
  const line = ["sweep", "--profile", "spot-16bit", "--sequence", "quick", "--output", "serial:/dev/null"];
  const args = [join(prefix, "bin", "limber"), ...line, "--serial", "P-2", "--journal", join(folder, "real.db")];
  const terminal = inTerminal(args, { cwd: folder, env: { HOME: folder } });
  expect(await terminal.ended).toBe(3);
  expect(terminal.output()).toContain("/dev/null is not a serial port");
});
