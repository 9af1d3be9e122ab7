/** The system's ways of asking a program to end: Ctrl-C, a kill, a closed terminal. Each becomes an input, so that the rest state still goes out. */
const NAMES = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/** Signals that may come while the sheet is printed; with a closed terminal nobody can be told anything any more. */
const LATE = ["SIGINT", "SIGTERM"] as const;

/** Calls `listen` with the name of each signal, until what it returns is called. */
export type Signals = (listen: (name: string) => void) => () => void;

/** The signals by which the system or a person asks the program to end. */
export const systemSignals: Signals = (listen) => on(NAMES, listen);

/**
 * A run and the telling of its end, as one. A signal that comes when the run is over and its job sheet is not yet printed is
 * let pass: all that it asked for is under way. A second one then ends the program at once.
 *
 * @param work plays a run with the signals it is given, and tells what came of it
 */
export const untilTold = async <T>(work: (signals: Signals) => Promise<T>): Promise<T> => {
  let told = () => {};
  try {
    return await work((listen) => {
      const stop = systemSignals(listen);
      return () => {
        // First this, then that: in between a signal would find nobody.
        told = letOnePass();
        stop();
      };
    });
  } finally {
    told();
  }
};

const letOnePass = (): (() => void) => {
  let passed = 0;
  const stop = on(LATE, (name) => {
    passed += 1;
    if (passed === 1) return;
    stop();
    process.kill(process.pid, name);
  });
  return stop;
};

const on = (names: readonly NodeJS.Signals[], listen: (name: NodeJS.Signals) => void): (() => void) => {
  const heard = names.map((name) => [name, () => listen(name)] as const);
  for (const [name, call] of heard) process.on(name, call);
  return () => {
    for (const [name, call] of heard) process.off(name, call);
  };
};

/** An error that nobody caught is a mistake of ours: the run goes dark instead of dying with the beam open. */
export const systemMishaps = (listen: (error: unknown) => void): (() => void) => {
  process.on("uncaughtException", listen);
  return () => process.off("uncaughtException", listen);
};
