import type pg from 'pg';

/**
 * The rows of a query by a cursor, a few hundred at a time: as many as there are, in the memory of a few. Inside a
 * transaction; the name is the caller's, so that several can be open at once.
 */
export async function* fetchedRows<Row extends pg.QueryResultRow>(
  client: pg.ClientBase,
  name: string,
  sql: string,
  atOnce = 500,
): AsyncGenerator<Row> {
  await client.query(`DECLARE ${name} NO SCROLL CURSOR FOR ${sql}`);
  for (;;) {
    const { rows } = await client.query<Row>(`FETCH ${atOnce} FROM ${name}`);
    if (rows.length === 0) break;
    yield* rows;
  }
  await client.query(`CLOSE ${name}`);
}
