import { execFileSync, spawn } from "node:child_process";
import { readdirSync, readFileSync, readlinkSync, statSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { program } from "./kit/built.ts";
import { SHORT_SEQUENCE, workplace } from "./kit/limber.ts";
import { inTerminal } from "./kit/terminal.ts";

const SOURCES = readdirSync("src", { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .map((name) => ({ name, text: readFileSync(join("src", name), "utf8") }));
const where = (pattern: RegExp) => SOURCES.filter(({ text }) => pattern.test(text)).map(({ name }) => name);

/** What a text from outside might try: clear the screen, name the window, ring, turn the reading direction, break the line. */
const HOSTILE = "A\u001b[2J\u001b]0;owned\u0007\u202e17\r\n\u009b31m=1+1";
/** All that the program may say to a terminal beside text: colours, cursor, erasing, the other screen, the bell. */
const ESC = "\u001b";
const KNOWN_CONTROL = new RegExp(
  `${ESC}\\[[0-9;]*[mABCDGHJK]|${ESC}\\[\\?(?:25|1049|2004|2026)[hl]|[\\u0007\\r\\n]`,
  "g",
);

const place = workplace();
afterAll(() => place.remove());
const short = place.file("short.yaml", SHORT_SEQUENCE);
const shipped = readFileSync("profiles/spot-16bit.yaml", "utf8");
const hostileProfile = place.file(
  "a\u001b]0;owned\u0007.yaml",
  shipped
    .replace(/^title: .*$/m, `title: ${JSON.stringify(HOSTILE)}`)
    .replace("./profile", join(process.cwd(), "profiles/profile")),
);
const hostileSequence = place.file(
  "hostile.yaml",
  `sequence: hostile\ntitle: ${JSON.stringify(HOSTILE)}\nsteps:\n  - { sweep: Pan, speed: full, passes: 2, watch: ${JSON.stringify(HOSTILE)} }\n`,
);

describe("what the program may do to the computer it runs on", () => {
  test("no shell is built from a string: programs are started with a list of arguments", () => {
    expect(where(/(?<!\.)\b(?:exec|execSync|execFile|execFileSync|spawnSync)\(|\bshell: (?:true|")/)).toEqual([]);
    // The browser that shows the guide, this program itself once for each core, the voice's own programs, and what sends frames.
    expect(where(/from "node:child_process"/)).toEqual([
      "app/files/guide.ts",
      "app/simulated/trial.ts",
      "io/voice/speech.ts",
      "run/shell/process-link.ts",
    ]);
  });

  test("a server is built in one place only, for a phone that was asked for; no code is made from text", () => {
    expect(where(/from "node:(?:http|https|http2|tls|inspector|cluster|vm|repl)"/)).toEqual(["io/phone/server.ts"]);
    expect(where(/createServer\(|\.listen\(this|\.listen\(\d/)).toEqual(["io/phone/server.ts"]);
    expect(where(/\beval\(|new Function\(/)).toEqual([]);
  });

  test("a port is bound in one place only: Art-Net's, while fixtures behind a gateway are asked", () => {
    expect(where(/\.bind\(/)).toEqual(["io/network/art-rdm.ts"]);
  });

  test("every package that the program is made of is justified where contributors read, and none that is gone", () => {
    const used = new Set(
      SOURCES.flatMap(({ text }) =>
        [...text.matchAll(/(?:^import |\bfrom |\bimport\()"((?:@[\w-]+\/)?[\w-]+)[^"]*"/gm)].map(([, name]) => name!),
      ).filter((name) => name !== "node"),
    );
    const page = readFileSync("DEVELOPERS.md", "utf8");
    const table = page.slice(page.indexOf("## Dependencies"));
    const named = [...table.matchAll(/^\| ([a-z@][^|]*) \|/gm)].flatMap(([, names]) =>
      names!.split(", ").map((name) => name.trim()),
    );
    expect(named.filter((name) => name !== "package").sort()).toEqual([...used].sort());
  });
});

describe.runIf(process.platform === "linux")("a run on the simulated line", () => {
  test("has no socket open", async () => {
    const run = spawn(
      process.execPath,
      [program(), "sweep", "--watcher", "1", "--sequence", short, "--journal", join(place.folder, "sockets.db")],
      { env: { PATH: process.env["PATH"], HOME: place.folder }, stdio: "ignore" },
    );
    const ended = new Promise((resolve) => run.on("exit", resolve));
    await until(() => filesOf(run.pid!).some((file) => file.endsWith("sockets.db")));
    expect(networkSockets(run.pid!)).toEqual([]);
    run.kill("SIGTERM");
    await ended;
  });

  test("leaves nothing that others on the computer may read, whatever the umask", () => {
    const home = workplace();
    const command = `umask 000; exec "$0" "$@"`;
    const args = [process.execPath, program(), "sweep", "--watcher", "1", "--fast", "--sequence", short];
    execFileSync("sh", ["-c", command, ...args], { env: { PATH: process.env["PATH"], HOME: home.folder } });
    const made = readdirSync(home.folder, { recursive: true, encoding: "utf8" });
    expect(made.some((name) => name.endsWith(".db")) && made.some((name) => name.endsWith("limber.log"))).toBe(true);
    // What only holds folders may be looked into by others; they find the program's own folder locked.
    const open = made.filter((name) => /limber/.test(name) && (statSync(join(home.folder, name)).mode & 0o077) !== 0);
    home.remove();
    expect(open).toEqual([]);
  });
});

describe("text from outside cannot drive the terminal", () => {
  const names = ["--profile", hostileProfile, "--sequence", hostileSequence, "--serial", "A-17"];

  test.each([
    { command: ["sweep", "--serial", HOSTILE, "--watcher", "1", "--fast"], because: "a serial number that is refused" },
    { command: ["sweep", ...names, "--watcher", "1", "--fast", "--journal", place.journal], because: "a job sheet" },
    { command: ["runs", "--journal", place.journal], because: "the list of runs" },
    { command: ["sequence", "show", hostileSequence, "--profile", hostileProfile], because: "a sequence's plan" },
    {
      command: ["sweep", ...names, "--output", `serial:/dev/${HOSTILE}`, "--journal", place.journal],
      because: "a port's name",
    },
    { command: ["sweep", "--profile", `./${HOSTILE}.yaml`], because: "a file that is not there" },
    {
      command: ["sweep", "--sequence", place.file(`b\u001b[2J.yaml`, `sequence: ${JSON.stringify(HOSTILE)}\n`)],
      because: "a file full of mistakes",
    },
    { command: ["sheet", HOSTILE, "--journal", place.journal], because: "a run that is not there" },
    { command: [HOSTILE], because: "a command that is not there" },
    { command: ["sweep", `--${HOSTILE}`], because: "an option that is not there" },
  ])(
    "in $because it is shown and does nothing",
    ({ command }) => {
      const { out, err } = place.limber(...command);
      expect(`${out}${err}`).not.toBe("");
      expect(`${out}${err}`.replaceAll(/[\n\r]/g, "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    },
    60_000,
  );

  test("on the screen it is shown and does nothing: all the terminal is told is known by kind", async () => {
    const run = inTerminal([program(), "sweep", ...names, "--journal", join(place.folder, "screen.db")], {
      env: { HOME: place.folder },
    });
    await run.until("BEFORE ANYTHING MOVES");
    run.type("c");
    await run.until("SLOW MOVEMENT FIRST");
    const shown = await run.until("owned");
    run.type("\u0003");
    await run.ended;
    expect(shown).toContain("\\u001b");
    expect(run.output()).not.toContain("\u001b]");
    expect(run.output().replaceAll(KNOWN_CONTROL, "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(run.buffer()).toBe("normal");
  }, 120_000);
});

describe("what comes along from elsewhere", () => {
  interface Locked {
    readonly integrity?: string;
    readonly hasInstallScript?: boolean;
    readonly dev?: boolean;
    readonly link?: boolean;
  }
  const lock = JSON.parse(readFileSync("package-lock.json", "utf8")) as {
    readonly packages: Readonly<Record<string, Locked>>;
  };
  const packages = Object.entries(lock.packages).filter(([place]) => place !== "");

  test("every package of the lock file has its SHA-512, so that another content is refused", () => {
    expect(packages.length).toBeGreaterThan(100);
    expect(packages.filter(([, { integrity }]) => !integrity?.startsWith("sha512-")).map(([place]) => place)).toEqual(
      [],
    );
  });

  test("two packages would run a script when they are installed; neither needs it, as the packed program shows", () => {
    const scripted = packages.filter(([, one]) => one.hasInstallScript).map(([place]) => place);
    expect(scripted).toEqual(["node_modules/@photostructure/sqlite", "node_modules/@serialport/bindings-cpp"]);
  });
});

const filesOf = (pid: number): readonly string[] =>
  readdirSync(`/proc/${pid}/fd`).flatMap((fd) => {
    try {
      return [readlinkSync(`/proc/${pid}/fd/${fd}`)];
    } catch {
      return [];
    }
  });

/** Of the sockets a process holds, those of the internet's protocols. */
const networkSockets = (pid: number): readonly string[] => {
  const held = new Set(filesOf(pid).flatMap((file) => /^socket:\[(\d+)\]$/.exec(file)?.[1] ?? []));
  return ["tcp", "tcp6", "udp", "udp6"]
    .flatMap((kind) => readFileSync(`/proc/${pid}/net/${kind}`, "utf8").split("\n").slice(1))
    .filter((row) => held.has(row.trim().split(/\s+/)[9] ?? ""));
};

const until = async (is: () => boolean): Promise<void> => {
  while (!is()) await new Promise((resolve) => setImmediate(resolve));
};
