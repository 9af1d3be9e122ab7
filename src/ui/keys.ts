/** In front of text that came in one piece, from the clipboard: it is text to be filled in, never commands. */
const PASTED = "pasted:";

/** The text that came in one piece, as a paste; undefined for a key that somebody pressed. */
export const pastedIn = (key: string): string | undefined =>
  key.startsWith(PASTED) ? key.slice(PASTED.length) : undefined;

/** Asks a terminal to mark what is pasted, and to leave off (private sequences that most terminals know; memory). */
export const MARK_PASTES = "\u001b[?2004h";
export const LEAVE_PASTES = "\u001b[?2004l";

const PASTE_BEGINS = "\u001b[200~";
const PASTE_ENDS = "\u001b[201~";

/**
 * Cuts what a terminal sends into keys, as bench files name them: a character, "space", "enter", "pagedown" ... Two keys
 * in one read are two keys, and one key in two reads is one. What is pasted is one key.
 */
export class KeyReader {
  private waiting = "";

  /** The keys in a piece of what the terminal sends; what is not whole yet waits for the next piece. */
  read(text: string): readonly string[] {
    const keys: string[] = [];
    let rest = this.waiting + text;
    this.waiting = "";
    while (rest !== "") {
      const pasted = pasteIn(rest);
      if (pasted === "not whole yet") {
        this.waiting = rest;
        break;
      }
      if (pasted) {
        keys.push(PASTED + pasted.text);
        rest = rest.slice(pasted.length);
        continue;
      }
      const [key, length] = firstKey(rest);
      if (key === undefined) {
        this.waiting = rest;
        break;
      }
      keys.push(key);
      rest = rest.slice(length);
    }
    return keys;
  }

  /** A key was begun and has not come to its end: it may be the escape key itself. */
  get undecided(): boolean {
    return this.waiting !== "";
  }

  /** Ends the wait when nothing more came: what waited was keys of its own, or a paste that was cut off. */
  settle(): readonly string[] {
    if (this.waiting.startsWith(PASTE_BEGINS)) {
      const cut = this.waiting.slice(PASTE_BEGINS.length);
      this.waiting = "";
      return [PASTED + cut];
    }
    const alone = [...this.waiting].map((character) => NAMED[character] ?? character);
    this.waiting = "";
    return alone;
  }
}

const pasteIn = (text: string): { readonly text: string; readonly length: number } | "not whole yet" | undefined => {
  if (!text.startsWith(PASTE_BEGINS)) return undefined;
  const end = text.indexOf(PASTE_ENDS);
  if (end < 0) return "not whole yet";
  return { text: text.slice(PASTE_BEGINS.length, end), length: end + PASTE_ENDS.length };
};

const ESCAPE = "\u001b";
/** ECMA-48, without the escape in front: control sequences are [ parameters final; the keypad's own are O letter (memory). */
const SEQUENCE = /^(?:\[[0-?]*[ -/]*[@-~]|O[A-Za-z])/;
const BEGUN = /^(?:\[[0-?]*[ -/]*|O)?$/;

const firstKey = (text: string): readonly [string | undefined, number] => {
  const character = String.fromCodePoint(text.codePointAt(0) ?? 0);
  if (character !== ESCAPE) return [NAMED[character] ?? character, character.length];
  const sequence = SEQUENCE.exec(text.slice(1))?.[0];
  if (sequence) return [SEQUENCES[sequence.slice(1)] ?? "another key", sequence.length + 1];
  return BEGUN.test(text.slice(1)) ? [undefined, 0] : ["escape", 1];
};

const NAMED: Readonly<Record<string, string>> = {
  " ": "space",
  "\r": "enter",
  "\n": "enter",
  "\t": "tab",
  "\u001b": "escape",
  "\u007f": "backspace",
  "\b": "backspace",
  "\u0003": "ctrl-c",
};

const SEQUENCES: Readonly<Record<string, string>> = {
  A: "up",
  B: "down",
  C: "right",
  D: "left",
  M: "enter",
  "5~": "pageup",
  "6~": "pagedown",
};
