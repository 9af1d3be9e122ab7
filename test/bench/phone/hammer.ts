import { Agent, request } from "node:https";
import { connect, type Socket } from "node:net";
import { setPriority } from "node:os";
import { answering } from "../line/talk.ts";

/** Somebody on the network who wants to keep the bench from its work. In truth another computer: here it stands behind whatever else runs. */
setPriority(19);

interface Target {
  readonly port: number;
  readonly secret: string;
}

const counts = { asked: 0, answered: 0, refused: 0, connections: 0 };

const ask = (port: number, path: string, body: string, cookie = "", agent: Agent | false = false): Promise<string> =>
  new Promise((resolve) => {
    counts.asked += 1;
    const origin = `https://127.0.0.1:${port}`;
    const headers = { origin, "content-type": "application/json", cookie };
    const asked = request(
      { host: "127.0.0.1", port, path, method: "POST", headers, rejectUnauthorized: false, agent },
      (answer) => {
        counts[answer.statusCode === 200 ? "answered" : "refused"] += 1;
        answer.resume().on("end", () => resolve(String(answer.headers["set-cookie"] ?? "").split(";")[0] ?? ""));
      },
    );
    asked.on("error", () => {
      counts.refused += 1;
      resolve("");
    });
    asked.end(body);
  });

/** A phone that is paired and looks at the page, as one in a pocket does. */
const openPage = async ({ port, secret }: Target): Promise<string> => {
  // Over a connection that stays, as a browser has it.
  const agent = new Agent({ keepAlive: true });
  const cookie = await ask(port, "/pair", JSON.stringify({ secret }), "", agent);
  request({ host: "127.0.0.1", port, path: "/events", headers: { cookie }, rejectUnauthorized: false }, (answer) =>
    answer.resume(),
  ).end();
  setInterval(
    () => void ask(port, "/clock", JSON.stringify({ era: 0, sent: performance.now() }), cookie, agent),
    500,
  ).unref();
  return cookie;
};

const hammer = async (target: Target): Promise<void> => {
  const cookie = await openPage(target);
  const forever = async (path: string, body: () => string, own = "") => {
    for (;;) await ask(target.port, path, body(), own);
  };
  for (let n = 0; n < 4; n++) void forever("/pair", () => JSON.stringify({ secret: `guess-${Math.random()}` }));
  for (let n = 0; n < 2; n++) void forever("/say", () => "x".repeat(60_000), cookie);
  setInterval(() => {
    const sockets: Socket[] = Array.from({ length: 200 }, () =>
      connect(target.port, "127.0.0.1").on("error", () => {}),
    );
    counts.connections += sockets.length;
    setTimeout(() => {
      for (const socket of sockets) socket.destroy();
    }, 500);
  }, 1000);
};

answering(async (question: Target | "open" | "counts") => {
  if (question === "counts") return counts;
  if (question === "open") return "open";
  await hammer(question);
  return "hammering";
});
