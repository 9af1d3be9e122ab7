import { keyboard } from "./keyboard.ts";
import { Painter } from "./painter.ts";

const AGAIN_EVERY_MS = 2000;
const LEAVES: readonly string[] = ["q", "escape", "enter", "ctrl-c"];
const FOOT = "Updated every two seconds. Quit: Q, ESCAPE or ENTER.";

/** A page of lines on the terminal's other screen, asked for anew every two seconds until somebody leaves it. */
export const boardScreen = (lines: (columns: number) => Promise<readonly string[]>): Promise<0> => {
  const { stdin, stdout } = process;
  const painter = new Painter(stdout);
  painter.enter();
  return new Promise((resolve, reject) => {
    const draw = () =>
      lines(painter.columns).then((all) => {
        const room = painter.rows - 3;
        const shown = all.length <= room ? all : [...all.slice(0, room - 1), `and ${all.length - room + 1} more lines`];
        painter.write([...shown, "", FOOT].join("\n"));
      }, leave);
    const timer = setInterval(draw, AGAIN_EVERY_MS);
    const deaf = keyboard(
      stdin,
      (key) => LEAVES.includes(key.toLowerCase()) && leave(),
      () => leave(),
    );
    stdout.on("resize", () => painter.anew());
    function leave(error?: unknown): void {
      clearInterval(timer);
      deaf();
      stdout.removeAllListeners("resize");
      painter.leave();
      if (error === undefined) resolve(0);
      else reject(error);
    }
    void draw();
  });
};
