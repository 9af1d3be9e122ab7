/**
 * The schema on the server, step by step. A step that was taken is never changed: what is to be different is another step.
 * Events are kept by bench and number; only the function `push` writes them, so that no number is left out or used twice.
 */
export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE limber.benches (
    origin text PRIMARY KEY,
    shop text NOT NULL,
    name text NOT NULL,
    number bigint NOT NULL DEFAULT 0,
    hash text NOT NULL DEFAULT repeat('0', 64),
    forgotten timestamptz,
    seen timestamptz NOT NULL DEFAULT now()
  );
  CREATE TABLE limber.events (
    origin text NOT NULL,
    number bigint NOT NULL,
    time bigint NOT NULL,
    counter bigint NOT NULL,
    hash bytea NOT NULL,
    event text NOT NULL,
    PRIMARY KEY (origin, number)
  ) PARTITION BY HASH (origin);
  DO $$ BEGIN
    FOR part IN 0..31 LOOP
      EXECUTE format('CREATE TABLE limber.events_%s PARTITION OF limber.events FOR VALUES WITH (MODULUS 32, REMAINDER %s)', part, part);
    END LOOP;
  END $$;

  CREATE FUNCTION limber.push(bench text, batch json) RETURNS void LANGUAGE plpgsql AS $$
  DECLARE head limber.benches; one json;
  BEGIN
    SELECT * INTO STRICT head FROM limber.benches WHERE origin = bench FOR UPDATE;
    IF head.forgotten IS NOT NULL THEN RAISE EXCEPTION 'this bench was forgotten' USING ERRCODE = 'LB001'; END IF;
    FOR one IN SELECT * FROM json_array_elements(batch) LOOP
      IF (one->>'number')::bigint <= head.number THEN
        PERFORM 1 FROM limber.events WHERE origin = bench AND number = (one->>'number')::bigint AND hash = decode(one->>'hash', 'hex');
        IF NOT FOUND THEN RAISE EXCEPTION 'this number is in use' USING ERRCODE = 'LB002'; END IF;
        CONTINUE;
      END IF;
      IF (one->>'number')::bigint <> head.number + 1 OR one->>'before' <> head.hash THEN
        RAISE EXCEPTION 'this event does not follow' USING ERRCODE = 'LB002';
      END IF;
      INSERT INTO limber.events VALUES (bench, (one->>'number')::bigint, (one->>'time')::bigint, (one->>'counter')::bigint,
        decode(one->>'hash', 'hex'), one->>'event');
      head.number := (one->>'number')::bigint;
      head.hash := one->>'hash';
    END LOOP;
    UPDATE limber.benches SET number = head.number, hash = head.hash, seen = now() WHERE origin = bench;
  END $$;
  `,
  `
  CREATE TABLE limber.site_runs (
    shop text NOT NULL, run text NOT NULL, begun text NOT NULL, origin text NOT NULL, events integer NOT NULL, brief jsonb NOT NULL,
    PRIMARY KEY (shop, run)
  );
  CREATE TABLE limber.site_fixtures (
    shop text NOT NULL, serial text NOT NULL, events integer NOT NULL, fixture jsonb NOT NULL, PRIMARY KEY (shop, serial)
  );
  CREATE VIEW limber.fixtures AS
    SELECT shop, fixture->>'serial' AS serial, fixture->>'profile' AS profile, fixture->>'state' AS state, (fixture->>'runs')::int AS runs,
      fixture->>'run' AS last_run, (fixture->>'at')::timestamptz AS last_run_at
    FROM limber.site_fixtures WHERE NOT (fixture->>'simulated')::boolean;
  CREATE VIEW limber.due AS
    SELECT shop, fixture->>'serial' AS serial, fixture->>'state' AS state, reason FROM limber.site_fixtures, jsonb_array_elements_text(fixture->'because') AS reason
    WHERE NOT (fixture->>'simulated')::boolean;
  CREATE VIEW limber.runs AS
    SELECT shop, run, origin AS bench, brief->>'serial' AS serial, brief->>'profile' AS profile, brief->>'sequence' AS sequence,
      (brief->>'at')::timestamptz AS begun_at, (brief->>'minutes')::float AS minutes, brief->>'person' AS person,
      (brief->>'simulated')::boolean AS simulated, brief->>'ended' AS ended
    FROM limber.site_runs;
  CREATE VIEW limber.results AS
    SELECT shop, run, brief->>'serial' AS serial, step->>'id' AS step, step->>'routine' AS routine,
      step->>'result' AS result, (step->>'presses')::int AS presses, step->>'note' AS note
    FROM limber.site_runs, jsonb_array_elements(brief->'steps') AS step;
  CREATE VIEW limber.repairs AS
    SELECT shop, run, brief->>'serial' AS serial, coalesce(repair->>'fault', repair->>'what') AS repaired, repair->>'part' AS part,
      (repair->>'minutes')::float AS minutes, repair->>'person' AS person, (repair->>'at')::timestamptz AS at
    FROM limber.site_runs, jsonb_array_elements(brief->'repairs') AS repair;
  `,
  `
  DO $$ BEGIN
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'limber_reader') THEN CREATE ROLE limber_reader NOLOGIN; END IF;
    GRANT USAGE ON SCHEMA limber TO limber_reader;
    GRANT SELECT ON limber.fixtures, limber.due, limber.runs, limber.results, limber.repairs TO limber_reader;
  EXCEPTION WHEN insufficient_privilege THEN
    RAISE NOTICE 'no right to make the role limber_reader: have it made by whoever may';
  END $$;
  `,
  `
  CREATE TABLE limber.photos (
    shop text NOT NULL,
    name text NOT NULL CHECK (name ~ '^[0-9a-f]{64}[.](jpg|png)$'),
    bytes bytea NOT NULL CHECK (octet_length(bytes) <= 12582912),
    PRIMARY KEY (shop, name),
    CHECK (encode(sha256(bytes), 'hex') = left(name, 64))
  );
  `,
  `
  CREATE INDEX site_fixtures_of_serial ON limber.site_fixtures (serial);
  `,
  `
  ALTER TABLE limber.benches ADD COLUMN login text;
  ALTER TABLE limber.benches ALTER COLUMN login SET DEFAULT session_user;

  CREATE OR REPLACE FUNCTION limber.push(bench text, batch json) RETURNS void LANGUAGE plpgsql AS $$
  DECLARE head limber.benches; one json;
  BEGIN
    SELECT * INTO STRICT head FROM limber.benches WHERE origin = bench FOR UPDATE;
    IF head.forgotten IS NOT NULL THEN RAISE EXCEPTION 'this bench was forgotten' USING ERRCODE = 'LB001'; END IF;
    FOR one IN SELECT * FROM json_array_elements(batch) LOOP
      IF (one->>'number')::bigint <= head.number THEN
        PERFORM 1 FROM limber.events WHERE origin = bench AND number = (one->>'number')::bigint AND hash = decode(one->>'hash', 'hex');
        IF NOT FOUND THEN RAISE EXCEPTION 'this number is in use' USING ERRCODE = 'LB002'; END IF;
        CONTINUE;
      END IF;
      IF (one->>'number')::bigint <> head.number + 1 OR one->>'before' <> head.hash THEN
        RAISE EXCEPTION 'this event does not follow' USING ERRCODE = 'LB002';
      END IF;
      INSERT INTO limber.events VALUES (bench, (one->>'number')::bigint, (one->>'time')::bigint, (one->>'counter')::bigint,
        decode(one->>'hash', 'hex'), one->>'event');
      head.number := (one->>'number')::bigint;
      head.hash := one->>'hash';
    END LOOP;
    UPDATE limber.benches SET number = head.number, hash = head.hash, seen = now(), login = session_user WHERE origin = bench;
  END $$;
  `,
];
