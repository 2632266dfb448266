import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { auditActions, auditEntries, countAuditEntries } from '@/lib/store/audit';
import { keyPart, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;

/** One page of the audit log, newest first; for a steward of the demo world, what was done in that world. */
export async function readAuditLog(
  registry: Registry,
  actor: Actor | undefined,
  query: { from?: string | undefined; action?: string | undefined },
) {
  authorise(actor, 'readAuditLog');
  // No action holds a NUL, and the database could not look for one.
  const action = query.action?.replaceAll('\0', '');
  const filter = { action, onlyWorld: onlyWorldOf(actor) };
  const [page, total, actions] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: keyPart.bigint,
      read: (place, take) => auditEntries(registry.db, filter, place, take),
      keyOf: ({ id }) => String(id),
    }),
    countAuditEntries(registry.db, filter),
    auditActions(registry.db),
  ]);
  return {
    ...page,
    total,
    actions,
    rows: page.rows.map((entry) => ({
      id: String(entry.id),
      at: entry.at.toISOString(),
      action: entry.action,
      subject: `${entry.subjectKind} ${entry.subjectId}`,
      details: entry.details === null ? '' : JSON.stringify(entry.details),
      actor: entry.actor?.displayName ?? 'system',
    })),
  };
}
