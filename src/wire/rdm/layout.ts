/** How one value lies in a parameter's data: written into bytes and read back from them. Numbers have their high byte first. */
export interface Layout<T> {
  /** Undefined where the bytes cannot be this value: too few, too many, or a number that stands for nothing. */
  read(bytes: Uint8Array): T | undefined;
  write(value: T): Uint8Array;
  /** For words: "19 bytes", "up to 32 characters". */
  readonly expects: string;
}

/** A field of a fixed number of bytes inside a record, whose bytes are counted from 0. */
export interface Field<T> {
  readonly size: number;
  /** Reads the value that begins at byte `at`. */
  get(view: DataView, at: number): T;
  /** Writes the value so that it begins at byte `at`. */
  set(view: DataView, at: number, value: T): void;
}

export const u8: Field<number> = {
  size: 1,
  get: (view, at) => view.getUint8(at),
  set: (view, at, value) => view.setUint8(at, value),
};
export const u16: Field<number> = {
  size: 2,
  get: (view, at) => view.getUint16(at),
  set: (view, at, value) => view.setUint16(at, value),
};
export const s16: Field<number> = {
  size: 2,
  get: (view, at) => view.getInt16(at),
  set: (view, at, value) => view.setInt16(at, value),
};
export const u32: Field<number> = {
  size: 4,
  get: (view, at) => view.getUint32(at),
  set: (view, at, value) => view.setUint32(at, value),
};

/** No data at all. */
export const nothing: Layout<undefined> = {
  read: () => undefined,
  write: () => new Uint8Array(0),
  expects: "nothing",
};

/** Data that is one number and nothing else, from the lower to the higher of `range` where there is one. */
export const just = (field: Field<number>, range?: readonly [number, number]): Layout<number> => ({
  read: (bytes) => {
    if (bytes.length !== field.size) return undefined;
    const value = field.get(viewOf(bytes), 0);
    return range === undefined || (value >= range[0] && value <= range[1]) ? value : undefined;
  },
  write: (value) => filled(field.size, (view) => field.set(view, 0, value)),
  expects: range === undefined ? counted(field.size) : `a number from ${range[0]} to ${range[1]}`,
});

/** 0 or 1; whatever else a fixture says is no answer. */
export const yesOrNo: Layout<boolean> = {
  read: (bytes) => (bytes.length === 1 && (bytes[0] ?? 2) <= 1 ? bytes[0] === 1 : undefined),
  write: (value) => Uint8Array.of(value ? 1 : 0),
  expects: "one byte, 0 or 1",
};

type Fields<T> = { readonly [K in keyof T]: Field<T[K]> };

/** Data of several fields one after the other, in the order in which they are named. */
export const record = <T extends object>(fields: Fields<T>): Layout<T> => {
  const size = sizeOf(fields);
  return {
    read: (bytes) => (bytes.length === size ? readFields(fields, viewOf(bytes), 0) : undefined),
    write: (value) => filled(size, (view) => writeFields(fields, view, 0, value)),
    expects: counted(size),
  };
};

/** Data of records one after the other, until it ends. */
export const listOf = <T extends object>(fields: Fields<T>): Layout<readonly T[]> => {
  const size = sizeOf(fields);
  return {
    read: (bytes) =>
      bytes.length % size === 0
        ? Array.from({ length: bytes.length / size }, (_, index) => readFields(fields, viewOf(bytes), index * size))
        : undefined,
    write: (values) =>
      filled(size * values.length, (view) => {
        for (const [index, value] of values.entries()) writeFields(fields, view, index * size, value);
      }),
    expects: `a multiple of ${counted(size)}`,
  };
};

/** A list of plain numbers of 16 bits. */
export const words16: Layout<readonly number[]> = {
  read: (bytes) =>
    bytes.length % 2 === 0
      ? Array.from({ length: bytes.length / 2 }, (_, index) => viewOf(bytes).getUint16(index * 2))
      : undefined,
  write: (values) =>
    filled(values.length * 2, (view) => {
      for (const [index, value] of values.entries()) view.setUint16(index * 2, value);
    }),
  expects: "a multiple of 2 bytes",
};

/** Stands in a text for a byte that is no printable ASCII. */
export const NO_TEXT = "�";

/**
 * Data that is printable ASCII, up to `most` characters, 32 for a label (ANSI E1.20, secondary); it ends early at a zero
 * byte, which some fixtures fill up with. Bytes that are no text become NO_TEXT.
 */
export const text = (most = 32): Layout<string> => ({
  read: (bytes) => (bytes.length <= most ? textIn(bytes) : undefined),
  write: (value) => Uint8Array.from(value.slice(0, most), (character) => character.charCodeAt(0) & 0x7f),
  expects: `up to ${most} characters`,
});

/** Data that is a record with a text after it. */
export const recordAndText = <T extends object>(fields: Fields<T>): Layout<T & { readonly text: string }> => {
  const [head, tail, size] = [record(fields), text(), sizeOf(fields)];
  return {
    read: (bytes) => {
      const [first, rest] = [head.read(bytes.subarray(0, size)), tail.read(bytes.subarray(size))];
      return first !== undefined && rest !== undefined ? { ...first, text: rest } : undefined;
    },
    write: (value) => Uint8Array.of(...head.write(value), ...tail.write(value.text)),
    expects: `${counted(size)} and ${tail.expects}`,
  };
};

const textIn = (bytes: Uint8Array): string => {
  const end = bytes.indexOf(0);
  return Array.from(end < 0 ? bytes : bytes.subarray(0, end), (byte) =>
    byte >= 0x20 && byte <= 0x7e ? String.fromCharCode(byte) : NO_TEXT,
  )
    .join("")
    .trimEnd();
};

const viewOf = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const filled = (size: number, fill: (view: DataView) => void): Uint8Array => {
  const bytes = new Uint8Array(size);
  fill(viewOf(bytes));
  return bytes;
};

const keysOf = <T extends object>(fields: Fields<T>) => Object.keys(fields) as (keyof T)[];
const sizeOf = <T extends object>(fields: Fields<T>): number =>
  keysOf(fields).reduce((sum, key) => sum + fields[key].size, 0);

const readFields = <T extends object>(fields: Fields<T>, view: DataView, from: number): T => {
  let at = from;
  const read: Partial<T> = {};
  for (const key of keysOf(fields)) {
    read[key] = fields[key].get(view, at);
    at += fields[key].size;
  }
  return read as T;
};

const writeFields = <T extends object>(fields: Fields<T>, view: DataView, from: number, value: T): void => {
  let at = from;
  for (const key of keysOf(fields)) {
    fields[key].set(view, at, value[key]);
    at += fields[key].size;
  }
};

const counted = (size: number) => `${size} ${size === 1 ? "byte" : "bytes"}`;
