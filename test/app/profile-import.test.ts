import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { sampleArchive } from "../data/profile/gdtf/kit/sample.ts";
import { SHORT_SEQUENCE, workplace } from "../kit/limber.ts";

const place = workplace();
afterAll(() => place.remove());

const gdtf = join(place.folder, "sample.gdtf");
writeFileSync(gdtf, sampleArchive());
const short = place.file("short.yaml", SHORT_SEQUENCE);

test("without a mode it lists the modes and what of each Limber drives", () => {
  expect(place.limber("profile", "import", gdtf)).toEqual({
    code: 0,
    err: "",
    out: `Sample head, 3 modes; --mode NAME makes a profile of one.

Basic
  11 slots, 10 driven: pan, tilt, shutter, dimmer, colour wheel, gobo wheel 1,
  iris, zoom, focus, control

Extended
  24 slots, 23 driven: pan, tilt, dimmer, shutter, cyan, magenta, yellow,
  colour wheel, gobo wheel 1, gobo wheel 1 rotation, prism, prism rotation,
  frost, iris, zoom, focus, control

Cells
  17 slots, 17 driven: red emitter, green emitter, blue emitter, pan, tilt,
  dimmer
`,
  });
});

test("with a mode the profile goes to the output, and what was not understood beside it, line by line", () => {
  const { code, out, err } = place.limber("profile", "import", gdtf, "--mode", "Cells");
  expect(out).toBe(readFileSync("test/data/profile/gdtf/written/cells.yaml", "utf8"));
  expect(err.split("\n")).toEqual([
    expect.stringMatching(/^17 of 17 slots driven \(100 %\), 0 held, \d+ values to measure\.$/),
    "Assumed, left out, or to look at (1):",
    expect.stringMatching(
      /^ {2}.*sample\.gdtf, description\.xml:\d+: Head_ColorAdd_W: not driven, it has a start address of its own \(DMX break 2\)$/,
    ),
    "",
  ]);
  expect(code).toBe(0);
});

test("what it writes to a file can be checked, shown and played at once, and is never written over", () => {
  const file = join(place.folder, "sample-head-extended.yaml");
  const order = ["profile", "import", gdtf, "--mode", "Extended", "--out", file] as const;
  expect(place.limber(...order)).toMatchObject({ code: 0, out: `Written: ${file}\n` });
  expect(place.limber("profile", "check", file)).toMatchObject({ code: 0, err: "" });
  expect(place.limber("sequence", "show", "quick", "--profile", file)).toMatchObject({ code: 0, err: "" });
  const played = place.limber("start", "--profile", file, "--sequence", short, "--set", "none", "--fast");
  expect({ code: played.code, out: played.out }).toEqual({ code: 0, out: expect.stringContaining("finished.") });
  writeFileSync(file, "mine");
  expect(place.limber(...order)).toMatchObject({ code: 3, out: "" });
  expect(readFileSync(file, "utf8")).toBe("mine");
});

test.each([
  { args: [gdtf, "--mode", "basic"], says: 'basic: there is no mode of this name (did you mean "Basic"?)' },
  { args: ["nowhere.gdtf"], says: "nowhere.gdtf: there is no such file or folder" },
  { args: [short], says: "short.yaml: not a zip archive, or cut off (a GDTF file is a zip archive)" },
  { args: [], says: "missing required argument 'path'" },
])("$says: exit 2, no stack trace", ({ args, says }) => {
  const { code, err, out } = place.limber("profile", "import", ...args);
  expect(err).toContain(says);
  expect({ code, out, trace: /\n\s+at .*:\d+:\d+/.test(err) }).toEqual({ code: 2, out: "", trace: false });
});
