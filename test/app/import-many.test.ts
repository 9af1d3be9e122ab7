import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { zipSync } from "fflate";
import { afterAll, expect, test } from "vitest";
import { sampleArchive } from "../data/profile/gdtf/kit/sample.ts";
import { workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());
const library = join(place.folder, ".local", "share", "limber", "profiles");
const shelf = join(place.folder, "files");
mkdirSync(join(shelf, "more"), { recursive: true });
const sample = sampleArchive();
writeFileSync(join(shelf, "sample.gdtf"), sample);
writeFileSync(join(shelf, "more", "broken.gdtf"), "no archive");

test("a folder is imported whole: all modes of all files, one report, and what was refused with its reason", () => {
  expect(place.limber("profile", "import", shelf)).toEqual({
    code: 0,
    err: "",
    out: `broken.gdtf
  refused: not a zip archive, or cut off
sample.gdtf
  sample-head-basic: 10 of 11 slots driven, 11 values to measure
  sample-head-extended: 23 of 24 slots driven, 13 values to measure
  sample-head-cells: 17 of 17 slots driven, 8 values to measure

3 profiles written to ${library}, 1 refused.
`,
  });
});

test("profiles of the library have the file's name, fingerprint and day, pass the check, and are found by their name", () => {
  expect(readFileSync(join(library, "sample-head-basic.yaml"), "utf8")).toMatch(
    /^# Made by Limber from sample\.gdtf: .*\n# Imported \d{4}-\d\d-\d\d; the file's SHA-256 is [0-9a-f]{64}\.$/m,
  );
  expect(place.limber("profile", "check", "sample-head-basic", "sample-head-extended")).toMatchObject({
    code: 0,
    err: "",
  });
});

test("the same file again changes nothing; another file of the same fixture waits until it is wanted, and keeps what was measured", () => {
  expect(place.limber("profile", "import", shelf).out).toContain("0 profiles written to");
  const file = join(library, "sample-head-basic.yaml");
  writeFileSync(file, readFileSync(file, "utf8").replace("full_travel_s: 2.6", "full_travel_s: 3.3"));
  writeFileSync(join(shelf, "sample.gdtf"), sampleArchive([4]));
  expect(place.limber("profile", "import", shelf).out).toContain(
    "3 of other files than before not written (--replace writes them)",
  );
  expect(place.limber("profile", "import", shelf, "--replace").out).toContain(
    "sample-head-basic: 10 of 11 slots driven",
  );
  expect(readFileSync(file, "utf8")).toContain("full_travel_s: 3.3");
  expect(readdirSync(library).filter((name) => name.includes(".until-"))).toHaveLength(3);
});

test("a scene becomes a rack file and the profiles that it uses", () => {
  const scene = join(place.folder, "tour.mvr");
  const fixture = (address: number, mode: string) =>
    `<Fixture name="Head"><GDTFSpec>sample.gdtf</GDTFSpec><GDTFMode>${mode}</GDTFMode><Addresses><Address break="0">${address}</Address></Addresses></Fixture>`;
  const text = `<GeneralSceneDescription><Scene><Layers><Layer name="Truss"><ChildList>${fixture(1, "Basic")}${fixture(40, "Basic")}${fixture(80, "None")}</ChildList></Layer></Layers></Scene></GeneralSceneDescription>`;
  writeFileSync(
    scene,
    zipSync({ "GeneralSceneDescription.xml": new TextEncoder().encode(text), "sample.gdtf": sample }),
  );
  const rack = join(place.folder, "tour.yaml");
  const { code, out, err } = place.limber("profile", "import", scene, "--out", rack);
  expect({ code, err }).toEqual({ code: 0, err: "3, Head: left out, there is no profile of sample.gdtf, mode None\n" });
  expect(out).toContain("2 of 3 fixtures in the rack.");
  expect(place.limber("rack", "check", rack)).toMatchObject({ code: 0, err: "" });
});

test("a folder without such files says so", () => {
  expect(place.limber("profile", "import", "profiles")).toMatchObject({
    code: 2,
    err: "profiles: no GDTF file in this folder\n",
  });
});
