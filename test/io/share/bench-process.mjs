// A bench as a process of its own: writes runs, says which events are stored, and exchanges, until it is killed.
import { join } from "node:path";

const [dist, journal, settingsText, name, first] = process.argv.slice(2);
const { openTable } = await import(join(dist, "io/store/table.js"));
const { toRow } = await import(join(dist, "io/store/row.js"));
const { exchangeOnce } = await import(join(dist, "app/share/exchange-once.js"));
const template = JSON.parse(process.env.TEMPLATE);
const table = openTable(journal, 30);
for (let n = Number(first); ; n++) {
  const run = `${name}-${n}`;
  const events = template.map((event, k) => ({ ...event, run, id: `${run}-${k}` }));
  table.insert(events.map(toRow));
  process.stdout.write(`${events.map(({ id }) => id).join("\n")}\n`);
  const { outcome } = await exchangeOnce(table, JSON.parse(settingsText), journal);
  process.stdout.write(`exchanged ${outcome.kind}\n`);
}
