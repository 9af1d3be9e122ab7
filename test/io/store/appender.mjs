// A process that fills a journal and says which events were told to be on disk, to be killed at any instant.
// Arguments: folder of the built program, journal file, an event as JSON to be numbered, first number, how many (for ever).
import { writeSync } from "node:fs";
import { join } from "node:path";

const [dist, file, template, first, count = Infinity] = process.argv.slice(2);
const { openJournal } = await import(join(dist, "io/store/journal.js"));
const event = JSON.parse(template);
/** The reader may be slow: then the pipe is full for a moment. */
const say = (line) => {
  try {
    writeSync(1, `${line}\n`);
  } catch (error) {
    if (error.code !== "EAGAIN") throw error;
    say(line);
  }
};

say("opening");
const journal = await openJournal(file);
say("open");

let next = Number(first);
const end = next + Number(count);
const lane = async () => {
  while (next < end) {
    const id = `${next++}`;
    await journal.append({ ...event, id });
    say(id);
  }
};
await Promise.all([lane(), lane(), lane()]);
await journal.close();
