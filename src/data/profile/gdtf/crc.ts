/** CRC-32 of bytes as zip archives carry it (ISO-HDLC: "123456789" gives cbf43926). */
export const crc32 = (bytes: Uint8Array): number => {
  let rest = 0xffffffff;
  for (const byte of bytes) rest = (TABLE[(rest ^ byte) & 0xff] as number) ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
};

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});
