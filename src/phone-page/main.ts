import type { PhonePage } from "../run/phone/message.ts";
import { PageAttention } from "./attention.ts";
import { Connection, type Role } from "./connection.ts";
import { Drawing } from "./drawing.ts";

/** The page in the technician's hand. Nothing of the run is decided here: it shows, and says when it was touched. */

const secret = location.hash.slice(1);
history.replaceState(undefined, "", "/");

let page: PhonePage | undefined;
let role: Role = { kind: "stranger" };
const attention = new PageAttention();

const connection = new Connection({
  role: (now) => {
    role = now;
    drawing.role(role);
    drawing.page(page, role);
  },
  page: (now) => {
    if (now.drawn !== page?.drawn) call(page, now);
    page = now;
    drawing.page(page, role);
  },
  connection: (state) => {
    if (state === "lost") attention.lost();
    drawing.link(state, connection.kept);
  },
});

const drawing = new Drawing((says, at) => {
  connection.say(says, at);
  drawing.kept(connection.kept);
});

/** A step begins, or an answer is wanted. */
const call = (before: PhonePage | undefined, now: PhonePage): void => {
  if (now.moving === "moves" && (before?.moving !== "moves" || before.headline !== now.headline)) attention.begins();
  else if (
    now.moving === "stands" &&
    (now.answers.length > 0 || now.guarded !== "") &&
    before?.headline !== now.headline
  )
    attention.asks();
};

drawing.role(role);
void connection.begin(secret);
