/**
 * Numbers that know what they measure. A plain literal fits anywhere; a number that was already given a unit does not fit
 * where another unit is wanted, so degrees cannot slip into seconds.
 */
export type Quantity<Unit extends string> = number & { readonly unit?: Unit };

export type Seconds = Quantity<"s">;
/** For clocks of the system and the keys; all that is played is in seconds and frames. */
export type Milliseconds = Quantity<"ms">;
export type Degrees = Quantity<"deg">;
export type Hertz = Quantity<"Hz">;
export type Volts = Quantity<"V">;
export type Amps = Quantity<"A">;
export type Milliamps = Quantity<"mA">;
export type Metres = Quantity<"m">;
export type Lux = Quantity<"lx">;
/** A frame number counted from the start of a step or of the clock: frame n is due n x 25 ms after the start. */
export type Frame = Quantity<"frame">;
/** One DMX slot value, 0 to 255. */
export type Level = Quantity<"level">;
/** 0 to 1. */
export type Probability = Quantity<"probability">;

/** The refresh of every DMX line: 40 frames a second, under the 44.1 Hz that 512 slots allow (ANSI E1.11). */
export const FRAMES_PER_SECOND = 40;
export const FRAME_SECONDS: Seconds = 1 / FRAMES_PER_SECOND;

/** The number of whole frames that last at least `time`. The tiny allowance keeps 0.1 s at 4 frames and not 5. */
export const framesIn = (time: Seconds): Frame => Math.ceil(time * FRAMES_PER_SECOND - 1e-9);

/** How long `frames` whole frames of 25 ms last. */
export const secondsOf = (frames: Frame): Seconds => frames * FRAME_SECONDS;
