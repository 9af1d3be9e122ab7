import { zipSync } from "fflate";
import { expect, test } from "vitest";
import { crc32, descriptionIn } from "../../../../src/data/profile/gdtf/archive.ts";
import { tellProblems } from "../../../../src/domain/problem/problem.ts";
import { must } from "../../../kit/shipped.ts";
import { archiveOf } from "./kit/gdtf.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const told = (archive: Uint8Array): string => {
  const read = descriptionIn("sample.gdtf", archive);
  return read.ok ? `read: ${read.value.text}` : tellProblems(read.problems);
};
/** The archive with some bytes of its central directory entry written over. */
const lying = (archive: Uint8Array, change: (entry: DataView) => void): Uint8Array => {
  const copy = archive.slice();
  const view = new DataView(copy.buffer);
  let at = copy.length - 22;
  at = view.getUint32(at + 16, true);
  change(new DataView(copy.buffer, at));
  return copy;
};
const honest = archiveOf("<GDTF/>".repeat(50));

test("the checksum is the one that zip archives carry (check value of CRC-32/ISO-HDLC)", () => {
  expect(crc32(bytes("123456789")).toString(16)).toBe("cbf43926");
});

test("a stored and a deflated description read the same", () => {
  const stored = zipSync({ "description.xml": [bytes("<GDTF/>"), { level: 0 }] });
  expect([told(stored), told(archiveOf("<GDTF/>"))]).toEqual(["read: <GDTF/>", "read: <GDTF/>"]);
});

test.each([
  { archive: bytes("no zip at all"), says: "not a zip archive, or cut off", because: "a GDTF file is a zip archive" },
  { archive: honest.subarray(0, -30), says: "not a zip archive, or cut off", because: "half a download is no archive" },
  { archive: new Uint8Array(), says: "not a zip archive", because: "an empty file is no archive" },
  {
    archive: zipSync({ "thumbnail.png": bytes("x") }),
    says: "no description.xml in the archive",
    because: "without a description there is nothing to read",
  },
  {
    archive: zipSync({ "../description.xml": bytes("<GDTF/>"), "/etc/passwd": bytes("x") }),
    says: "no description.xml in the archive",
    because: "a path in the archive leads nowhere",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(24, 900_000_000, true)),
    says: "says it is 859 MB; at most 8 are read",
    because: "a stated size is bounded before anything is unpacked",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(24, 30, true)),
    says: "does not unpack to the length it states",
    because: "more data than stated is not cut off silently",
  },
  {
    archive: lying(archiveOf(" ".repeat(50_000_000)), (entry) => entry.setUint32(24, 1000, true)),
    says: "does not unpack to the length it states",
    because: "a bomb that lies about its size unpacks no further than it said",
  },
  {
    archive: archiveOf(" ".repeat(50_000_000)),
    says: "says it is 48 MB; at most 8 are read",
    because: "a bomb that tells the truth is not unpacked",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(16, 1, true)),
    says: "its checksum does not agree",
    because: "a damaged description must not become a profile",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(20, 5_000_000, true)),
    says: "does not lie inside the archive",
    because: "packed data lies inside the archive",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(42, 4_000_000_000, true)),
    says: "does not lie inside the archive",
    because: "an entry begins inside the archive",
  },
  {
    archive: lying(honest, (entry) => entry.setUint16(8, 1, true)),
    says: "is encrypted",
    because: "nobody has the password",
  },
  {
    archive: lying(honest, (entry) => entry.setUint16(10, 12, true)),
    says: "is packed by method 12",
    because: "GDTF stores or deflates",
  },
  {
    archive: lying(honest, (entry) => entry.setUint32(0, 0, true)),
    says: "directory breaks off at entry 1",
    because: "a directory has its entries",
  },
  {
    archive: zipSync(Object.fromEntries(Array.from({ length: 5000 }, (_, n) => [`wheels/${n}.png`, bytes("")]))),
    says: "5000 entries in the archive",
    because: "no fixture has thousands of pictures",
  },
])("$because", ({ archive, says }) => {
  expect(told(archive)).toContain(says);
});

/** What is read of an archive, and what is told of how it was packed. */
const read = (archive: Uint8Array) => {
  const { text, notes } = must(descriptionIn("sample.gdtf", archive));
  return { text, notes: notes.map(({ message }) => message) };
};

test.each([
  {
    archive: zipSync({ "Sample head/description.xml": bytes("<GDTF/>") }),
    notes: ['"Sample head/description.xml" is read as description.xml, which belongs at the root'],
    because: "somebody packed the folder instead of what is in it",
  },
  {
    archive: zipSync({ "Description.XML": bytes("<GDTF/>") }),
    notes: ['"Description.XML" is read as description.xml, which belongs at the root'],
    because: "some file systems do not tell capitals apart",
  },
  {
    archive: zipSync({ "__MACOSX/._description.xml": bytes("x"), "a/description.xml": bytes("<GDTF/>") }),
    notes: ['"a/description.xml" is read as description.xml, which belongs at the root'],
    because: "what a computer adds for its own use is no description",
  },
  {
    archive: zipSync({ "old/description.xml": bytes("x"), "description.xml": bytes("<GDTF/>") }),
    notes: ['2 entries could be description.xml: "description.xml" is read'],
    because: "of several the one at the root counts",
  },
  {
    archive: zipSync({ "description.xml": Uint8Array.from([0xff, 0xfe, ...Buffer.from("<GDTF/>", "utf16le")]) }),
    notes: ["description.xml is UTF-16, not UTF-8"],
    because: "another encoding says so with its first two bytes",
  },
  {
    archive: zipSync({ "description.xml": bytes("\uFEFF<GDTF/>\0\0") }),
    notes: [],
    because: "a mark before the text and zero bytes behind it are no text",
  },
])("$because", ({ archive, notes }) => {
  expect(read(archive)).toEqual({ text: "<GDTF/>", notes });
});

test("text that is not UTF-8 is read as western European, and names may look wrong", () => {
  const archive = zipSync({ "description.xml": Buffer.from("<GDTF A='\u00fc'/>", "latin1") });
  expect(read(archive)).toEqual({
    text: "<GDTF A='\u00fc'/>",
    notes: ["description.xml is not UTF-8: read as western European text, so names may look wrong"],
  });
});
