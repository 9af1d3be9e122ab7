import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import type { IUniverseDriver } from "dmx-ts/dist/src/models/IUniverseDriver.js";

type Driver = new (path: string) => IUniverseDriver;
const require = createRequire(import.meta.url);

/** The framed serial driver of dmx-ts. Its file is called after a product, so it is found by what it does: the message with 7E, one output. */
export const otherDriver = (path: string): IUniverseDriver => {
  const folder = join(dirname(require.resolve("dmx-ts/dist/src/DMX.js")), "drivers");
  const file = readdirSync(folder)
    .filter((name) => name.endsWith(".js"))
    .map((name) => join(folder, name))
    .find((name) => {
      const text = readFileSync(name, "utf8");
      return text.includes("START_OF_MSG = 0x7e") && !text.includes("port === 'B'");
    });
  if (file === undefined) throw new Error("this dmx-ts has no framed serial driver");
  const [Found] = Object.values(require(file) as Record<string, Driver>);
  if (Found === undefined) throw new Error(`${file} exports no driver`);
  return new Found(path);
};
