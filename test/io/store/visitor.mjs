// Opens a journal, appends an event to it and prints how far it came. Arguments: folder of the built program, file, event as JSON.
import { join } from "node:path";

const [dist, file, event] = process.argv.slice(2);
const { openJournal } = await import(join(dist, "io/store/journal.js"));
let at = "opening";
try {
  const journal = await openJournal(file);
  at = "appending";
  await journal.append(JSON.parse(event)).finally(() => journal.close());
  console.log(JSON.stringify({ at: "the end", code: "none", message: "" }));
} catch ({ code, message }) {
  console.log(JSON.stringify({ at, code, message }));
}
