/** Compares versions such as 20.19.4 and 20.19, number by number; a leading "v" is left out. */
export const isOlder = (version: string, needed: string): boolean => {
  const [have, want] = [version, needed].map((text) => text.replace(/^v/, "").split(".").map(Number));
  for (const [place, number] of (want ?? []).entries()) {
    const own = have?.[place] ?? 0;
    if (own !== number) return own < number;
  }
  return false;
};
