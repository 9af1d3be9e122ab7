/** Breaks text at blanks into lines of at most so many characters; words that are longer stand alone. */
export const wrapped = (text: string, width: number): readonly string[] =>
  text.split(" ").reduce<readonly string[]>((lines, word) => {
    const last = lines.at(-1);
    if (last === undefined) return [word];
    return last.length + 1 + word.length <= width ? [...lines.slice(0, -1), `${last} ${word}`] : [...lines, word];
  }, []);

/** A mark before the first line, and the others set in under it. */
export const hanging = (mark: string, text: string, width: number): readonly string[] =>
  wrapped(text, width - mark.length).map((line, index) => (index === 0 ? mark : " ".repeat(mark.length)) + line);
