import type { Database } from '@/lib/store/database';

/**
 * Copies every submitted or published run so many times by plain SQL, the copies of a session's
 * runs in one session on an earlier day of their own: the run, its latest revision with conditions, findings and results, and its row among those that count, with a
 * value a little beside the original's. Photos, readings and the log stay with the originals.
 */
export async function cloneRuns(db: Database, times: number): Promise<void> {
  const steps = [
    `CREATE TEMPORARY TABLE session_clone ON COMMIT DROP AS
     SELECT session."id" AS "of", gen_random_uuid() AS "id", step,
       (min(session."localDate") OVER place - (row_number() OVER (place ORDER BY step, session."id"))::int) AS "day"
     FROM "Session" session CROSS JOIN generate_series(1, ${times}) step
     WINDOW place AS (PARTITION BY session."carId", session."loopId")`,
    `CREATE TEMPORARY TABLE clone ON COMMIT DROP AS
     SELECT run."id" AS "of", revision."id" AS "revisionOf", gen_random_uuid() AS "id",
       gen_random_uuid() AS "revisionId", session_clone."id" AS "sessionId", session_clone."day", step
     FROM "Run" run
     JOIN session_clone ON session_clone."of" = run."sessionId"
     JOIN LATERAL (SELECT "id" FROM "RunRevision" WHERE "runId" = run."id" ORDER BY "number" DESC LIMIT 1) revision ON true
     WHERE run."status" IN ('submitted', 'approved', 'retracted')`,
    copyOf(
      'Session',
      'clone."of" = original."id"',
      { id: 'clone."id"', localDate: 'clone."day"' },
      'session_clone',
    ),
    copyOf('Run', 'clone."of" = original."id"', {
      id: 'clone."id"',
      number: `nextval(pg_get_serial_sequence('"Run"', 'number'))`,
      creationKey: 'clone."id"::text',
      sessionId: 'clone."sessionId"',
      localDate: 'clone."day"',
      publishedDay: 'clone."day"',
      supersededById: 'NULL',
    }),
    copyOf('RunRevision', 'clone."revisionOf" = original."id"', {
      id: 'clone."revisionId"',
      runId: 'clone."id"',
      localDate: 'clone."day"',
    }),
    ...['Conditions', 'Finding', 'Normalisation'].map((table) =>
      copyOf(table, 'clone."revisionOf" = original."revisionId"', { revisionId: 'clone."revisionId"' }),
    ),
    copyOf('CountedRun', 'clone."of" = original."runId"', {
      runId: 'clone."id"',
      number: '(SELECT "number" FROM "Run" WHERE "id" = clone."id")',
      sessionId: 'clone."sessionId"',
      day: 'clone."day"',
      z: 'original."z" + 0.01 * sin(clone.step)',
    }),
  ];
  await db.$transaction(
    async (tx) => {
      const columns = await tx.$queryRaw<{ table_name: string; column_name: string }[]>`
        SELECT table_name, column_name FROM information_schema.columns
        WHERE table_schema = current_schema() ORDER BY ordinal_position`;
      for (const step of steps) {
        const sql = typeof step === 'string' ? step : step(columns);
        await tx.$executeRawUnsafe(sql);
      }
    },
    { timeout: 3_600_000 },
  );
  await db.$executeRaw`ANALYZE`;
}

type Columns = readonly { table_name: string; column_name: string }[];

function copyOf(table: string, join: string, changed: Readonly<Record<string, string>>, clones = 'clone') {
  return (columns: Columns) => {
    const names = columns.filter((column) => column.table_name === table).map((column) => column.column_name);
    const quoted = names.map((name) => `"${name}"`).join(', ');
    const values = names.map((name) => changed[name] ?? `original."${name}"`).join(', ');
    return `INSERT INTO "${table}" (${quoted}) SELECT ${values} FROM ${clones} clone JOIN "${table}" original ON ${join}`;
  };
}
