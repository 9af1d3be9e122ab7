import { spawnSync } from "node:child_process";
import { afterAll, describe, expect, test } from "vitest";
import { namesOf } from "../../src/app/files/names.ts";
import { FAULT_IDS } from "../../src/diagnosis/model/knowledge/faults.ts";
import { program } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { shippedProfile } from "../kit/shipped.ts";

const place = workplace();
afterAll(() => place.remove());

describe("what can be named", () => {
  test("every fault has a line; for one kind of fixture only what it has", () => {
    expect(namesOf("faults", undefined).map(({ name }) => name)).toEqual(FAULT_IDS);
    const ofSpot = namesOf("faults", shippedProfile("spot-16bit")).map(({ name }) => name);
    expect(ofSpot).toContain("pan-belt-slack");
    expect(ofSpot.filter((name) => name.startsWith("blade"))).toEqual([]);
  });

  test.each([
    {
      args: ["names", "faults", "--find", "belt"],
      says: "pan-belt-slack",
      because: "a word is found in names and titles",
    },
    { args: ["names", "words"], says: "the position that Limber sends", because: "one thing has one name" },
    { args: ["names", "hold-points"], says: "isolated", because: "hold points are named in the journal" },
    { args: ["names", "sequences"], says: "quick", because: "files are named without their ending" },
    {
      args: ["names", "functions", "--profile", "spot-16bit"],
      says: "Pan",
      because: "functions have the standard's names",
    },
  ])("limber $args: $because", ({ args, says }) => {
    const { code, out } = place.limber(...args);
    expect(code).toBe(0);
    expect(out).toContain(says);
  });

  test("a word that nothing has names the nearest", () => {
    const { code, err } = place.limber("names", "faults", "--find", "pan-belt-slak");
    expect({ code, err }).toEqual({
      code: 2,
      err: 'pan-belt-slak: nothing of this name among the faults (did you mean "pan-belt-slack"?)\n',
    });
  });
});

describe("the shell completes", () => {
  test.each([
    { words: ["repla"], to: ["replay"], because: "commands" },
    { words: ["rack", "id"], to: ["identify"], because: "commands of a family" },
    { words: ["sweep", "--ask"], to: ["--ask-each"], because: "options" },
    { words: ["sweep", "--profile", "spot-8"], to: ["spot-8bit"], because: "names of data files" },
    { words: ["sheet", "--as", "ht"], to: ["html"], because: "the choices of an option" },
    { words: ["found", "some-run", "pan-belt"], to: ["pan-belt-slack"], because: "names of faults" },
    { words: ["names", "hold"], to: ["hold-points"], because: "the choices of an argument" },
    { words: ["nonsense", "x"], to: [], because: "nothing is offered where nothing is known, and nothing is said" },
  ])("$words to $to: $because", ({ words, to }) => {
    const { code, out, err } = place.limber("complete", "--", ...words);
    expect({ code, out: out.split("\n").filter(Boolean), err }).toEqual({ code: 0, out: to, err: "" });
  });

  test("a real bash does, after reading what limber completion prints", () => {
    const script = place.limber("completion", "bash").out;
    const limber = `limber() { "${process.execPath}" "${program()}" "$@"; }`;
    const typed = `COMP_WORDS=(limber sweep --sequence qui); COMP_CWORD=3; _limber; echo "\${COMPREPLY[@]}"`;
    const bash = spawnSync("bash", ["-c", [limber, script, typed].join("\n")], { encoding: "utf8" });
    expect(bash.stdout).toBe("quick\n");
  });

  /** What each shell calls when TAB is pressed, here without a terminal; a shell that is not installed is not asked. */
  const SHELLS = [
    {
      shell: "zsh",
      typed: (words: readonly string[]) =>
        `compdef() { : }; compadd() { shift; print -l -- "\${(P@)1}"; }; _files() { : }; source /dev/stdin <<'END'
${place.limber("completion", "zsh").out}
END
words=(limber ${words.join(" ")}); CURRENT=${words.length + 1}; _limber`,
    },
    {
      shell: "fish",
      typed: (words: readonly string[]) =>
        `${place.limber("completion", "fish").out.trim()}\ncomplete -C "limber ${words.join(" ")}"`,
    },
  ] as const;
  const isInstalled = (shell: string): boolean => spawnSync(shell, ["-c", "true"]).status === 0;

  test.each(SHELLS.filter(({ shell }) => isInstalled(shell)))("a real $shell does, too", ({ shell, typed }) => {
    const limber =
      shell === "fish"
        ? `function limber; "${process.execPath}" "${program()}" $argv; end`
        : `limber() { "${process.execPath}" "${program()}" "$@"; }`;
    const offered = (words: readonly string[]) =>
      spawnSync(shell, ["-c", [limber, typed(words)].join("\n")], { encoding: "utf8" });
    for (const [words, to] of [
      [["sweep", "--sequence", "qui"], "quick"],
      [["repla"], "replay"],
    ] as const) {
      const { stdout, stderr } = offered(words);
      expect(
        {
          stdout: stdout
            .split("\n")
            .filter(Boolean)
            .map((line) => line.split("\t")[0]),
          stderr,
        },
        shell,
      ).toEqual({
        stdout: [to],
        stderr: "",
      });
    }
  });

  test.each(["bash", "zsh", "fish"])("what is printed for %s asks the program itself", (shell) => {
    const { code, out } = place.limber("completion", shell);
    expect(code).toBe(0);
    expect(out).toContain("limber complete -- ");
  });
});
