import { readFileSync } from "node:fs";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";

/** Reads a QR code or a Code 128 in a picture; undefined where there is none. Its program for pictures is loaded from beside this file, never from the network. */
export const readLabel = async (picture: Uint8Array): Promise<string | undefined> => {
  prepared ??= prepare();
  await prepared;
  const found = await readBarcodes(picture, { formats: ["QRCode", "Code128"], tryHarder: true, maxNumberOfSymbols: 1 });
  const text = found[0]?.isValid ? found[0].text.trim() : "";
  return text === "" ? undefined : text;
};

let prepared: Promise<unknown> | undefined;

const prepare = async (): Promise<unknown> => {
  const wasmBinary = new Uint8Array(readFileSync(new URL("label-reader.wasm", import.meta.url)));
  return prepareZXingModule({ overrides: { wasmBinary: wasmBinary.buffer }, fireImmediately: true });
};
