import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stripPicture } from "../../../src/run/phone/picture.ts";
import { jpegWith } from "../../io/phone/pictures.ts";

const text = (bytes: Uint8Array) => Buffer.from(bytes).toString("latin1");
const kept = (bytes: Uint8Array): Uint8Array => {
  const stripped = stripPicture(bytes);
  if (stripped.kind === "refused") throw new Error(stripped.why);
  return stripped.bytes;
};
const joined = (...parts: readonly (Uint8Array | readonly number[])[]) =>
  Uint8Array.from(parts.flatMap((part) => [...part]));
const segment = (marker: number, content: string) =>
  joined([0xff, marker, (content.length + 2) >> 8, (content.length + 2) & 255], Buffer.from(content, "latin1"));
/** Put in behind the start of an image. */
const withSegment = (jpeg: Uint8Array, ...segments: readonly Uint8Array[]) =>
  joined(jpeg.subarray(0, 2), ...segments, jpeg.subarray(2));

const SECRETS = "GPSLatitude 52 deg 31 min, 2026:12:01, serial of the camera";

describe("JPEG", () => {
  const bare = jpegWith();

  test.each([
    { because: "EXIF with the place (APP1)", jpeg: withSegment(bare, segment(0xe1, `Exif\0\0${SECRETS}`)) },
    { because: "XMP (APP1)", jpeg: withSegment(bare, segment(0xe1, `http://ns.adobe.com/xap/1.0/\0${SECRETS}`)) },
    { because: "a second picture (APP2, MPF)", jpeg: withSegment(bare, segment(0xe2, `MPF\0${SECRETS}`)) },
    { because: "words of the press (APP13)", jpeg: withSegment(bare, segment(0xed, SECRETS)) },
    { because: "a comment", jpeg: withSegment(bare, segment(0xfe, SECRETS)) },
    {
      because: "several of them",
      jpeg: withSegment(bare, segment(0xe1, SECRETS), segment(0xef, SECRETS), segment(0xfe, SECRETS)),
    },
    { because: "a film behind the end of the picture", jpeg: joined(bare, Buffer.from(`ftypmp42${SECRETS}`)) },
  ])("$because is left out, and the picture stays bit for bit", ({ jpeg }) => {
    expect(text(jpeg)).toContain(SECRETS);
    expect(kept(jpeg)).toEqual(bare);
  });

  test("a JFIF segment loses its thumbnail; Adobe's stays, which says how colours are coded", () => {
    const jfif = segment(0xe0, `JFIF\0\x01\x02\x01\0\x48\0\x48\x01\x01${SECRETS}`);
    const adobe = segment(0xee, "Adobe\0\x64\0\0\0\0\x01");
    const clean = kept(withSegment(bare, jfif, adobe));
    expect(text(clean)).not.toContain("GPS");
    expect(text(clean)).toContain("JFIF\0\x01\x02\0\0\x01\0\x01\0\0");
    expect(text(clean)).toContain("Adobe");
  });

  test("stuffed bytes and restart markers in the picture are no segments", () => {
    const scan = joined(bare.subarray(0, -3), [0x12, 0xff, 0x00, 0xe1, 0xff, 0xd3, 0x34, 0xff, 0xd9]);
    expect(kept(scan)).toEqual(scan);
  });
});

describe("PNG", () => {
  const chunk = (name: string, content: string) => {
    const length = Buffer.alloc(4);
    length.writeUInt32BE(content.length);
    return joined(length, Buffer.from(name + content, "latin1"), [0, 0, 0, 0]);
  };
  const SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
  const png = (...between: readonly Uint8Array[]) =>
    joined(SIGNATURE, chunk("IHDR", "x".repeat(13)), ...between, chunk("IDAT", "data"), chunk("IEND", ""));

  test.each(["tEXt", "zTXt", "iTXt", "eXIf", "tIME", "iCCP", "prVt"])("what stands in %s is left out", (name) => {
    expect(kept(png(chunk(name, SECRETS)))).toEqual(png());
  });

  test("what makes the colours stays, what lies behind the end goes", () => {
    const whole = png(chunk("gAMA", "0000"), chunk("PLTE", "abc"), chunk("tRNS", "a"));
    expect(kept(joined(whole, Buffer.from(SECRETS)))).toEqual(whole);
  });
});

test.each([
  { because: "nothing", bytes: Uint8Array.of(), why: "only JPEG and PNG pictures are taken" },
  {
    because: "a drawing that can hold a script",
    bytes: Buffer.from("<svg onload=alert(1)>"),
    why: "only JPEG and PNG pictures are taken",
  },
  { because: "another kind of picture", bytes: Buffer.from("GIF89a"), why: "only JPEG and PNG pictures are taken" },
  { because: "a JPEG cut short", bytes: jpegWith().subarray(0, 90), why: "this picture is cut short or damaged" },
  {
    because: "a JPEG without a picture",
    bytes: Uint8Array.of(0xff, 0xd8, 0xff, 0xd9),
    why: "this picture is cut short or damaged",
  },
  {
    because: "a length that lies",
    bytes: Uint8Array.of(0xff, 0xd8, 0xff, 0xe1, 0xff, 0xff, 1),
    why: "this picture is cut short or damaged",
  },
])("$because is refused in words", ({ bytes, why }) => {
  expect(stripPicture(bytes)).toEqual({ kind: "refused", why });
});

test("whatever the bytes, it comes to an end; what was stripped once has nothing more to strip", () => {
  const bytes = fc.oneof(
    fc.uint8Array({ maxLength: 400 }),
    fc.uint8Array({ maxLength: 60 }).map((noise) => joined(jpegWith().subarray(0, 40), noise, jpegWith().subarray(40))),
  );
  fc.assert(
    fc.property(bytes, (some) => {
      const once = stripPicture(some);
      if (once.kind === "picture") expect(kept(once.bytes)).toEqual(once.bytes);
    }),
  );
});
