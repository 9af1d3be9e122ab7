/**
 * Cuts what a terminal sends into keys, as bench files name them: a character, "space", "enter", "pagedown" ... Two keys
 * in one read are two keys, and one key in two reads is one.
 */
export class KeyReader {
  private waiting = "";

  read(text: string): readonly string[] {
    const keys: string[] = [];
    let rest = this.waiting + text;
    this.waiting = "";
    while (rest !== "") {
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

  /** Nothing more came: what waited was keys of its own. */
  settle(): readonly string[] {
    const alone = [...this.waiting].map((character) => NAMED[character] ?? character);
    this.waiting = "";
    return alone;
  }
}

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
