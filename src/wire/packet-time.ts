/** Too small for seconds to read well; DMX512 timing is given in these. */
export type Microseconds = number & { readonly unit?: "us" };

/** 11 bits of 4 us: a start bit, 8 data bits, 2 stop bits (ANSI E1.11). */
const SLOT: Microseconds = 44;
/** The shortest a sender may leave between the beginnings of two breaks, however few the slots (ANSI E1.11). */
const SHORTEST: Microseconds = 1204;
/** The shortest a sender may make them (ANSI E1.11). */
const SHORTEST_BREAK: Microseconds = 92;
const SHORTEST_MARK: Microseconds = 12;

/**
 * How long a packet of `slots` slots occupies the DMX line: break, mark, start code, slots (ANSI E1.11).
 * The start code takes a slot's time too.
 */
export const packetTime = (slots: number, breakTime = SHORTEST_BREAK, markTime = SHORTEST_MARK): Microseconds =>
  Math.max(SHORTEST, breakTime + markTime + SLOT * (slots + 1));
