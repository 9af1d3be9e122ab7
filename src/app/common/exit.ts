/** What the program's end tells a script. */
export const EXIT = {
  /** The run came to its end, whatever it found. */
  done: 0,
  /** A mistake of ours. */
  bug: 1,
  /** The command, a name or a data file is wrong: nothing was moved. */
  input: 2,
  /** A port, the journal or another part of the world could not be used. */
  world: 3,
  /** Stopped before the end; `limber resume` goes on. */
  stopped: 4,
} as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
