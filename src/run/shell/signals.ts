/** The system's ways of asking a program to end: Ctrl-C, a kill, a closed terminal. Each becomes an input, so that the rest state still goes out. */
const NAMES = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

export const systemSignals = (listen: (name: string) => void): (() => void) => {
  const heard = NAMES.map((name) => [name, () => listen(name)] as const);
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
