/**
 * Numbers that know what they measure. A plain literal fits anywhere; a number that was already given a unit does not fit
 * where another unit is wanted, so degrees cannot slip into seconds.
 */
type Measured<Unit extends string> = number & { readonly unit?: Unit };

export type Seconds = Measured<"s">;
export type Degrees = Measured<"deg">;
export type Hertz = Measured<"Hz">;
export type Volts = Measured<"V">;
export type Amps = Measured<"A">;
export type Milliamps = Measured<"mA">;
export type Metres = Measured<"m">;
export type Lux = Measured<"lx">;
/** A frame number counted from the start of a step or of the clock: frame n is due n x 25 ms after the start. */
export type Frame = Measured<"frame">;
/** One DMX slot value, 0 to 255. */
export type Level = Measured<"level">;
/** 0 to 1. */
export type Probability = Measured<"probability">;

/** The refresh of every DMX line: 40 frames a second, under the 44.1 Hz that 512 slots allow (ANSI E1.11). */
export const FRAMES_PER_SECOND = 40;
export const FRAME_SECONDS: Seconds = 1 / FRAMES_PER_SECOND;

/** The number of whole frames that last at least so long. The tiny allowance keeps 0.1 s at 4 frames and not 5. */
export const framesIn = (time: Seconds): Frame => Math.ceil(time * FRAMES_PER_SECOND - 1e-9);
export const secondsOf = (frames: Frame): Seconds => frames * FRAME_SECONDS;
