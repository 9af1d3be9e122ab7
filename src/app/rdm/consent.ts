import { typedLines } from "../../ui/typed-lines.ts";

/** A plain yes before something is changed in a fixture; anything else, and the end of the input, is a no. */
export const saysYes = async (question: string): Promise<boolean> => {
  const lines = typedLines();
  try {
    lines.say(`${question} Type yes to do it. Anything else: nothing is done.`);
    return (await lines.next())?.trim().toLowerCase() === "yes";
  } finally {
    lines.close();
  }
};
