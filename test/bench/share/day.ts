import pg from "pg";
import { addressIn } from "../../../src/io/share/connection.ts";
import { openShare } from "../../../src/io/share/server.ts";
import { type ChainedEvent, canonical, hashOf, NO_HASH } from "../../../src/run/events/chain.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row } from "../line/row.ts";
import { shopRuns } from "../memory/shop.ts";
import { timed } from "../store/rooms.ts";

/** Benches of one shop hear of each other. */
const BENCHES_OF_SHOP = 10;
/** Quick checks that one bench makes in a day (judgement). */
const RUNS_A_DAY = 20;
const CONNECTIONS = 8;

/**
 * Simulated: so many benches with a chain of their own each connect, send a run, hear what the others of their shop have
 * sent, and go. All at once, so that what a whole day takes can be told from it.
 */
export const dayRows = async (url: string, benches: number): Promise<readonly Row[]> => {
  const [template = []] = [...shopRuns(1)];
  const [pushes, pulls]: [number[], number[]] = [[], []];
  let [next, events] = [0, 0];
  const worker = async () => {
    for (let bench = next++; bench < benches; bench = next++) {
      const origin = bench.toString(16).padStart(12, "b");
      const door = await openShare({
        url,
        shop: `shop ${Math.floor(bench / BENCHES_OF_SHOP)}`,
        name: `bench ${bench}`,
      });
      const chain = chainOf(origin, template);
      await door.join(origin);
      pushes.push(await timed(() => door.push(origin, chain)));
      events += chain.length;
      const others = (await door.benches([])).filter((one) => one.origin !== origin && one.number > 0);
      for (const other of others) pulls.push(await timed(() => door.pull(other.origin, 0, 200)));
      await door.close();
    }
  };
  const took = await timed(() => Promise.all(Array.from({ length: CONNECTIONS }, worker)));
  const bytes = await bytesPerEvent(url);
  const perSecond = events / (took / 1000);
  return [
    row(`${benches} simulated benches, a run each: events taken`, "a second", perSecond),
    row("one push of a run, p50", "ms", quantile(pushes, 0.5)),
    row("one push of a run, p99", "ms", quantile(pushes, 0.99)),
    row("one pull of a run, p50", "ms", quantile(pulls, 0.5)),
    row("one pull of a run, p99", "ms", quantile(pulls, 0.99)),
    row("size of an event on the server, indexes with it", "bytes", bytes),
    row(
      `a day of 1000 such benches, ${RUNS_A_DAY} runs each, at that rate`,
      "minutes",
      (1000 * RUNS_A_DAY * template.length) / perSecond / 60,
    ),
  ];
};

const chainOf = (origin: string, template: readonly object[]): readonly ChainedEvent[] => {
  let before = NO_HASH;
  return template.map((one, index) => {
    const event = canonical({ ...one, run: `day-${origin}`, id: `${origin}-${index}` });
    const link = { origin, number: index + 1, time: 1_767_600_000_000 + index, counter: 0, before };
    before = hashOf(link, event);
    return { ...link, event, hash: before };
  });
};

const bytesPerEvent = async (url: string): Promise<number> => {
  const { host, user, database } = addressIn(url, process.env);
  const client = new pg.Client({ host, ...(user ? { user } : {}), ...(database ? { database } : {}) });
  await client.connect();
  const { rows } = await client.query(
    "SELECT sum(pg_total_relation_size(relid))::float / (SELECT count(*) FROM limber.events) AS bytes FROM pg_partition_tree('limber.events') WHERE isleaf",
  );
  await client.end();
  return Number(rows[0]?.bytes);
};
