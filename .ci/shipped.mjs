/**
 * What the package brings along: packages that npm installs beside it, and those bundled into it.
 * `node .ci/shipped.mjs sbom` writes them as a CycloneDX bill of materials, made by npm's own command, into the package.
 * `node .ci/shipped.mjs audit` asks the registry for known weaknesses of these alone; where it does not answer that is said, and nothing fails.
 */
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const BUNDLE = process.env.LIMBER_DIST ?? "dist/bundle";
const lock = JSON.parse(readFileSync("package-lock.json", "utf8"));

/** "node_modules/a/node_modules/@b/c" is the package @b/c. */
const nameOf = (place) => place.slice(place.lastIndexOf("node_modules/") + "node_modules/".length);

/** The bundler marks where every module of a library begins: "// node_modules/...". */
const bundled = () => {
  const places = new Set();
  for (const file of readdirSync(BUNDLE).filter((name) => name.endsWith(".js")))
    for (const [, path] of readFileSync(join(BUNDLE, file), "utf8").matchAll(/^\/\/ (node_modules\/.+)$/gm)) {
      const [name] = /^(?:@[^/]+\/)?[^/]+/.exec(nameOf(path)) ?? [""];
      places.add(`${path.slice(0, path.lastIndexOf("node_modules/"))}node_modules/${name}`);
    }
  return places;
};

/** Places in the lock file of all that is shipped. */
export const shippedPlaces = () => {
  const inside = bundled();
  return Object.entries(lock.packages).flatMap(([place, { dev, version }]) =>
    place !== "" && (!dev || inside.has(place)) ? [{ name: nameOf(place), version }] : [],
  );
};

const say = (words) => process.stdout.write(`${words}\n`);
const npm = (...args) => spawnSync("npm", args, { encoding: "utf8", maxBuffer: 64 * 1024 * 1024 });

const sbom = () => {
  const { stdout, status, stderr } = npm("sbom", "--sbom-format", "cyclonedx", "--package-lock-only");
  if (status !== 0) throw new Error(stderr);
  const whole = JSON.parse(stdout);
  const shipped = new Set(shippedPlaces().map(({ name, version }) => `${name}@${version}`));
  const refs = new Set([whole.metadata.component["bom-ref"]]);
  const components = whole.components.filter(({ name, version }) => shipped.has(`${name}@${version}`));
  for (const one of components) refs.add(one["bom-ref"]);
  const dependencies = whole.dependencies
    .filter(({ ref }) => refs.has(ref))
    .map(({ ref, dependsOn }) => ({ ref, dependsOn: dependsOn.filter((one) => refs.has(one)) }));
  writeFileSync(join(BUNDLE, "sbom.cdx.json"), `${JSON.stringify({ ...whole, components, dependencies }, null, 1)}\n`);
  say(`${components.length} packages in ${join(BUNDLE, "sbom.cdx.json")}`);
};

const audit = () => {
  const { stdout } = npm("audit", "--json");
  const said = JSON.parse(stdout || "{}");
  if (!said.vulnerabilities) return say("The registry does not answer the audit: left out.");
  const names = new Set(shippedPlaces().map(({ name }) => name));
  const weak = Object.values(said.vulnerabilities).filter(({ name }) => names.has(name));
  for (const { name, severity, range } of weak) say(`${severity}: ${name} ${range}`);
  say(`${weak.length} known weaknesses in ${names.size} shipped packages.`);
  if (weak.some(({ severity }) => severity === "critical")) process.exitCode = 1;
};

const [, , what] = process.argv;
if (what === "sbom") sbom();
if (what === "audit") audit();
