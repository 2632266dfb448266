import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Minute } from '@/app/ui/When';
import type { DraftListed } from '@/lib/registry/protocol/drafts/draft';
import { dayWords } from '@/lib/run/localDate';

/** Drafts of the protocol, the newest first. */
export function DraftList({ drafts }: { drafts: readonly DraftListed[] }) {
  return (
    <DataTable
      caption="Drafts"
      captionHidden
      rows={drafts}
      rowKey={(draft) => draft.id}
      empty="No draft has been started."
      columns={[
        {
          key: 'label',
          header: 'Draft',
          rowHeader: true,
          cell: (draft) => (
            <Link className="link" href={`/protocol-versions/drafts/${draft.id}`}>
              Version {draft.label}
            </Link>
          ),
        },
        { key: 'state', header: 'State', cell: stateText },
        { key: 'edited', header: 'Last saved', cell: (draft) => <Minute at={draft.editedAt} /> },
        { key: 'by', header: 'Started by', cell: (draft) => draft.createdBy.displayName },
      ]}
      footnote="Times are UTC."
    />
  );
}

export function stateText({ state, from }: Pick<DraftListed, 'state' | 'from'>): string {
  if (state === 'published') return 'Was put in force';
  return state === 'announced' ? `Announced for ${dayWords(from ?? '')}` : 'Draft';
}
