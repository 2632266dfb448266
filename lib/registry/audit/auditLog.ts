import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { auditPage } from '@/lib/store/audit';
import type { Registry } from '../registry';

const PAGE_SIZE = 50;

/** One page of the audit log, newest first; for a steward of the demo world, what was done in that world. */
export async function readAuditLog(
  registry: Registry,
  actor: Actor | undefined,
  query: { page: number; action?: string },
) {
  authorise(actor, 'readAuditLog');
  const page = Number.isInteger(query.page) && query.page >= 1 ? query.page : 1;
  const filter = { ...(query.action ? { action: query.action } : {}), onlyWorld: onlyWorldOf(actor) };
  const [entries, total, actions] = await auditPage(registry.db, filter, page, PAGE_SIZE);
  return {
    page,
    pages: Math.max(1, Math.ceil(total / PAGE_SIZE)),
    total,
    actions: actions.map((one) => one.action),
    entries: entries.map((entry) => ({
      id: String(entry.id),
      at: entry.at.toISOString(),
      action: entry.action,
      subject: `${entry.subjectKind} ${entry.subjectId}`,
      details: entry.details === null ? '' : JSON.stringify(entry.details),
      actor: entry.actor?.displayName ?? 'system',
    })),
  };
}
