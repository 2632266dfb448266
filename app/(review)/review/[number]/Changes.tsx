import { DataTable } from '@/app/ui/DataTable';
import { Outcome } from '@/app/ui/Outcome';
import type { RevisionChanges } from '@/lib/protocol/revisionChanges';
import { formatQuantity } from '@/lib/units/format';
import type { UnitCode } from '@/lib/units/unit';

/** What a resubmission changed: entries, outcomes, photos, the number. */
export function Changes({ changes, unit }: { changes: RevisionChanges; unit: UnitCode }) {
  const number = (whPerKm: number | null) =>
    whPerKm === null ? 'no number' : formatQuantity(whPerKm, unit, { significantDigits: 4 });
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
