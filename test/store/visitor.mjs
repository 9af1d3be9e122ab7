// Opens a journal, appends an event to it and prints what came of it. Arguments: folder of the built program, file, event as JSON.
import { join } from "node:path";

const [dist, file, event] = process.argv.slice(2);
const { openJournal } = await import(join(dist, "store/journal.js"));
try {
  const journal = await openJournal(file);
  await journal.append(JSON.parse(event));
  await journal.close();
  console.log(JSON.stringify({ code: "none", message: "" }));
} catch ({ code, message }) {
  console.log(JSON.stringify({ code, message }));
}
