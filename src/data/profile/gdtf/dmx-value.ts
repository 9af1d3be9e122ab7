/** A DMX value as GDTF writes it (DIN SPEC 15800, table 1): so many bytes, widened by mirroring or, with an "s", by shifting. */
export interface DmxValue {
  readonly value: number;
  readonly bytes: number;
  readonly widens: "mirroring" | "shifting";
}

/** "255/1", "128/1s"; undefined for anything else, also for a value that its bytes cannot hold. */
export const parseDmxValue = (text: string): DmxValue | undefined => {
  const found = /^(\d{1,10})\/([1-4])(s?)$/.exec(text);
  if (!found) return undefined;
  const [, value, bytes, shifts] = found;
  const read = { value: Number(value), bytes: Number(bytes), widens: shifts ? "shifting" : "mirroring" } as const;
  return read.value <= highest(read.bytes) ? read : undefined;
};

/** The same value on so many bytes: 255/1 is 65535 on two, 255/1s is 65280. */
export const onBytes = ({ value, bytes, widens }: DmxValue, wanted: number): number =>
  widens === "shifting"
    ? Math.floor(value * 256 ** (wanted - bytes))
    : Math.floor((value / highest(bytes)) * highest(wanted) + 0.5);

/** The highest value of so many bytes. */
export const highest = (bytes: number): number => 256 ** bytes - 1;
