/** Breaks text at blanks into lines of at most so many characters; words that are longer stand alone. */
export const wrapped = (text: string, width: number): readonly string[] => {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= width) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};

/** A mark before the first line, and the others set in under it. */
export const hanging = (mark: string, text: string, width: number): readonly string[] =>
  wrapped(text, width - mark.length).map((line, index) => (index === 0 ? mark : " ".repeat(mark.length)) + line);
