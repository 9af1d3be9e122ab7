/**
 * Reads framed serial messages the way an interface would, one byte at a time. Shares no code with src on purpose: it is
 * the second opinion on what we write. It knows no mercy for noise; what does not fit is counted as a stray byte.
 */
export interface LineDecoder {
  take(bytes: Uint8Array): void;
  /** Slots of every packet with start code 0, in the order of arrival, slot 1 first. */
  readonly packets: readonly (readonly number[])[];
  /** Labels of everything else. */
  readonly otherLabels: readonly number[];
  readonly strays: number;
}

type Part = "start" | "label" | "low" | "high" | "payload" | "end";

export const lineDecoder = (arrived: (packet: readonly number[]) => void = () => {}): LineDecoder => {
  const packets: number[][] = [];
  const otherLabels: number[] = [];
  let strays = 0;
  let part: Part = "start";
  let label = 0;
  let left = 0;
  let payload: number[] = [];

  const whole = () => {
    const [startCode, ...slots] = payload;
    if (label !== 6 || startCode !== 0) return otherLabels.push(label);
    packets.push(slots);
    return arrived(slots);
  };
  const steps: Record<Part, (byte: number) => Part> = {
    start: (byte) => {
      if (byte === 126) return "label";
      strays += 1;
      return "start";
    },
    label: (byte) => {
      label = byte;
      payload = [];
      return "low";
    },
    low: (byte) => {
      left = byte;
      return "high";
    },
    high: (byte) => {
      left += byte * 256;
      return left > 0 ? "payload" : "end";
    },
    payload: (byte) => {
      payload.push(byte);
      left -= 1;
      return left > 0 ? "payload" : "end";
    },
    end: (byte) => {
      if (byte === 231) whole();
      else strays += 1;
      return "start";
    },
  };
  return {
    take: (bytes) => {
      for (const byte of bytes) part = steps[part](byte);
    },
    packets,
    otherLabels,
    get strays() {
      return strays;
    },
  };
};
