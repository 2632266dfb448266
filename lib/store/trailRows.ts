import type pg from 'pg';
import type { KeptEntry } from '@/lib/trail/fault';
import type { Seal } from '@/lib/trail/seal';
import { fetchedRows } from './fetchedRows';

/** The log and its seals as they are stored, read straight from the tables: verifying trusts nothing in between. */

type EntryRow = Omit<KeptEntry, 'id'> & { id: string };

/** Every entry by id. */
export async function* keptEntries(client: pg.ClientBase): AsyncGenerator<KeptEntry> {
  const sql = `
    SELECT e."id", e."at", e."writtenAt", e."actorId", e."action", e."subjectKind", e."subjectId", e."details",
      e."personal", e."personalOf", e."commitments", p."auditSalt" AS "salt",
      p."erasedAt" IS NOT NULL AS "isErased", coalesce(a."world" = 'demo', false) AS "isOfDemo"
    FROM "AuditEntry" e
    LEFT JOIN "Account" p ON p."id" = e."personalOf"
    LEFT JOIN "Account" a ON a."id" = e."actorId"
    ORDER BY e."id"`;
  for await (const row of fetchedRows<EntryRow>(client, 'kept_entries', sql))
    yield { ...row, id: BigInt(row.id) };
}

type SealRow = Omit<Seal, 'fromId' | 'toId'> & { fromId: string; toId: string };

/** Every seal by number. */
export async function* keptSeals(client: pg.ClientBase): AsyncGenerator<Seal> {
  const sql = `
    SELECT "number", "fromId", "toId", "sealedAt", "previousHash", "marks", "hash", "keyId", "signature"
    FROM "AuditSeal" ORDER BY "number"`;
  for await (const row of fetchedRows<SealRow>(client, 'kept_seals', sql, 8))
    yield { ...row, fromId: BigInt(row.fromId), toId: BigInt(row.toId) };
}
