import { DataTable } from '@/app/ui/DataTable';
import { Outcome } from '@/app/ui/Outcome';
import type { RevisionChanges } from '@/lib/protocol/revisionChanges';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

/** What a resubmission changed: entries, outcomes, photos, the number. */
export function Changes({ changes, display }: { changes: RevisionChanges; display: Display }) {
  const number = (whPerKm: number | null) =>
    whPerKm === null ? 'no number' : showQuantity(whPerKm, 'consumption', display);
  return (
    <>
      <DataTable
        caption="Entries that changed"
        rows={changes.entries}
        rowKey={(entry) => entry.key}
        empty="No entry changed."
        columns={[
          { key: 'label', header: 'Entry', rowHeader: true, cell: (entry) => entry.label },
          { key: 'before', header: 'Before', cell: (entry) => entry.before || 'empty' },
          { key: 'after', header: 'Now', cell: (entry) => entry.after || 'empty' },
        ]}
      />
      {changes.findings.length > 0 ? (
        <div className="mt-6">
          <DataTable
            caption="Rules that found otherwise"
            rows={changes.findings}
            rowKey={(finding) => finding.ruleId}
            columns={[
              { key: 'title', header: 'Rule', rowHeader: true, cell: (finding) => finding.title },
              {
                key: 'before',
                header: 'Before',
                cell: (finding) => (finding.before ? <Outcome outcome={finding.before} /> : 'not a rule'),
              },
              {
                key: 'after',
                header: 'Now',
                cell: (finding) => (finding.after ? <Outcome outcome={finding.after} /> : 'not a rule'),
              },
            ]}
          />
        </div>
      ) : null}
      <p className="num mt-4 text-sm">
        At reference conditions: {number(changes.normalisedBeforeWhPerKm)} before,{' '}
        {number(changes.normalisedAfterWhPerKm)} now. Photos: {changes.photosAdded} added,{' '}
        {changes.photosTakenAway} taken away.
      </p>
    </>
  );
}
