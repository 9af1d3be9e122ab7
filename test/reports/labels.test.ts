import { expect, test } from "vitest";
import { code128, labelPage } from "../../src/reports/label.ts";
import { readCode } from "../kit/phone.ts";

/** Bars as a scanner sees them: three points a module, thirty rows. */
const picture = (widths: readonly number[]) => {
  const quiet = 10;
  const modules = widths.reduce((sum, width) => sum + width, 2 * quiet);
  const [width, height, side] = [modules * 3, 30, 3];
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  let module = quiet;
  widths.forEach((wide, at) => {
    if (at % 2 === 0)
      for (let y = 0; y < height; y++)
        for (let x = module * side; x < (module + wide) * side; x++)
          data.fill(0, (y * width + x) * 4, (y * width + x) * 4 + 3);
    module += wide;
  });
  return { data, width, height };
};

const PRINTABLE = Array.from({ length: 95 }, (_, at) => String.fromCharCode(32 + at)).join("");

// Read by zxing, which shares no code and no table with what was drawn.
test.each([...PRINTABLE.match(/.{1,19}/g)!, "MH-0231", "7", "000000"])("a scanner reads %j back", async (text) => {
  // Blanks at the ends are read, and kept, too.
  expect(await readCode(picture(code128(text)!))).toBe(text);
});

test.each(["", "Zürich-7", "a\tb"])("%j is no text for these bars", (text) => {
  expect(code128(text)).toBeUndefined();
});

const LABEL = { serial: "MH-0231", verdict: "released", level: "show", due: "", simulated: false };

test("a label is one page of its roll, with both codes and the words", () => {
  const page = labelPage([{ ...LABEL, due: "Due next: measure in 30 days." }], "62x29");
  expect(page).toContain("size: 62mm 29mm");
  expect(page).toContain('aria-label="QR code: MH-0231"');
  expect(page).toContain('aria-label="Code 128: MH-0231"');
  expect(page).toContain("released, show");
  expect(page).toContain("Due next: measure in 30 days.");
});

test("a serial number that tries to be more stays a text, with its QR code alone where it is no ASCII", () => {
  const page = labelPage([{ ...LABEL, serial: "<script>alert(1)</script>é" }], "a4");
  expect(page).toContain("<h1>&#x3C;script>alert(1)&#x3C;/script>é</h1>");
  expect(page).not.toContain("Code 128");
  expect(page).toContain("size: A4");
});
