/** A picture of 8 by 8 grey points as small as a JPEG can be (ITU-T T.81), with words in a segment beside it as cameras write them. */
export const jpegWith = (words = ""): Uint8Array => {
  const segment = (marker: number, content: readonly number[] | Uint8Array) => [
    0xff,
    marker,
    (content.length + 2) >> 8,
    (content.length + 2) & 0xff,
    ...content,
  ];
  return Uint8Array.of(
    0xff,
    0xd8,
    ...(words === "" ? [] : segment(0xe1, new TextEncoder().encode(`Exif\0\0${words}`))),
    ...segment(0xdb, [0, ...Array<number>(64).fill(1)]),
    ...segment(0xc0, [8, 0, 8, 0, 8, 1, 1, 0x11, 0]),
    ...segment(0xc4, [0, 1, ...Array<number>(15).fill(0), 0]),
    ...segment(0xc4, [0x10, 1, ...Array<number>(15).fill(0), 0]),
    ...segment(0xda, [1, 1, 0, 0, 63, 0]),
    0x3f,
    0xff,
    0xd9,
  );
};
