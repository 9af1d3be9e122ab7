/** A string of a source file, with the line it begins on; what stands in `${}` of a template is left out, `${` stays. */
export interface StringLiteral {
  readonly line: number;
  readonly text: string;
}

/**
 * All string literals and parts of templates of TypeScript source, comments and regular expressions left out. A scanner of our
 * own: it knows quotes, templates within templates, comments, and a slash that begins a regular expression.
 */
export const stringLiterals = (source: string): readonly StringLiteral[] => new Scanner(source).all();

const BEFORE_REGEXP = /^(?:return|case|typeof|of|in)$/;

class Scanner {
  private readonly source: string;
  private readonly found: StringLiteral[] = [];
  private at = 0;
  private line = 1;
  /** Open braces: of a template's `${`, or of code. */
  private readonly open: ("template" | "code")[] = [];
  /** Whether a value ends here, so that a slash divides. */
  private value = false;

  constructor(source: string) {
    this.source = source;
  }

  all(): readonly StringLiteral[] {
    while (this.at < this.source.length) this.step();
    return this.found;
  }

  private step(): void {
    const rest = this.source.slice(this.at, this.at + 2);
    const char = rest[0] ?? "";
    if (/\s/.test(char)) this.take(1);
    else if (rest === "//") this.skipTo("\n");
    else if (rest === "/*") this.skipTo("*/");
    else if (char === '"' || char === "'") this.quoted(char);
    else if (char === "`") this.template(1);
    else if (char === "/" && !this.value) this.regExp();
    else if (/[\w$]/.test(char)) this.word();
    else this.sign(char);
  }

  private sign(char: string): void {
    if (char === "{") this.open.push("code");
    if (char === "}" && this.open.pop() === "template") {
      this.template(1);
      return;
    }
    this.take(1);
    this.value = char === ")" || char === "]";
  }

  private word(): void {
    const [word = ""] = /^[\w$]+/.exec(this.source.slice(this.at, this.at + 100)) ?? [];
    this.take(word.length);
    this.value = !BEFORE_REGEXP.test(word);
  }

  private quoted(quote: string): void {
    const { line } = this;
    this.take(1);
    const from = this.at;
    while (this.source[this.at] !== quote && this.at < this.source.length)
      this.take(this.source[this.at] === "\\" ? 2 : 1);
    this.found.push({ line, text: this.source.slice(from, this.at) });
    this.take(1);
    this.value = true;
  }

  /** From a backtick, or from the brace that closes `${`, to the next `${` or the end. */
  private template(lead: number): void {
    const { line } = this;
    this.take(lead);
    const from = this.at;
    for (; this.at < this.source.length; this.take(this.source[this.at] === "\\" ? 2 : 1)) {
      if (this.source[this.at] === "`") {
        this.found.push({ line, text: this.source.slice(from, this.at) });
        this.take(1);
        this.value = true;
        return;
      }
      if (this.source.startsWith("${", this.at)) {
        this.take(2);
        this.found.push({ line, text: this.source.slice(from, this.at) });
        this.open.push("template");
        this.value = false;
        return;
      }
    }
  }

  private regExp(): void {
    let inClass = false;
    this.take(1);
    while (this.at < this.source.length && (inClass || this.source[this.at] !== "/")) {
      if (this.source[this.at] === "[") inClass = true;
      if (this.source[this.at] === "]") inClass = false;
      this.take(this.source[this.at] === "\\" ? 2 : 1);
    }
    this.take(1);
    this.value = true;
  }

  private skipTo(end: string): void {
    const at = this.source.indexOf(end, this.at);
    this.take((at < 0 ? this.source.length : at + end.length) - this.at);
  }

  private take(count: number): void {
    for (let n = 0; n < count; n += 1) {
      if (this.source[this.at] === "\n") this.line += 1;
      this.at += 1;
    }
  }
}
