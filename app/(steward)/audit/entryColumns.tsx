import type { Column } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Second } from '@/app/ui/When';
import type { readAuditLog } from '@/lib/registry/audit/auditLog';

type Entry = Awaited<ReturnType<typeof readAuditLog>>['rows'][number];

export const ENTRY_COLUMNS: readonly Column<Entry>[] = [
  { key: 'at', header: 'When', rowHeader: true, cell: ({ at }) => <Second at={at} /> },
  {
    key: 'actor',
    header: 'Who',
    cell: ({ actor, actorSlug }) =>
      actorSlug === undefined ? (
        actor
      ) : (
        <Link href={`/audit?person=${encodeURIComponent(actorSlug)}`}>{actor}</Link>
      ),
  },
  { key: 'act', header: 'What', answer: true, cell: ({ act }) => act },
  {
    key: 'subject',
    header: 'On',
    cell: ({ subject: { words, href } }) => (href === undefined ? words : <Link href={href}>{words}</Link>),
  },
  { key: 'details', header: 'Details', wide: true, cell: ({ details }) => details },
];
