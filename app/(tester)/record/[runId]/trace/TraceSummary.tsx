import { DefinitionList } from '@/app/ui/DefinitionList';
import type { DraftTrace } from '@/lib/registry/traces/draftTrace';
import { formatDuration, formatNumber, formatQuantity } from '@/lib/units/format';

const km = (metres: number) => formatQuantity(metres, 'km', { decimals: 2 });

export function TraceSummary({ trace }: { trace: DraftTrace }) {
  const { turnaround, stops } = trace;
  return (
    <>
      <DefinitionList
        columns={2}
        items={[
          { term: 'File', description: trace.fileName },
          {
            term: 'Points used',
            description: `${formatNumber(trace.pointsUsed, 0)} of ${formatNumber(trace.pointsRead, 0)}`,
          },
          { term: 'Distance', description: km(trace.distanceM) },
          { term: 'Duration', description: formatDuration(trace.durationS, true) },
          {
            term: 'Turnaround',
            description: turnaround ? km(turnaround.distanceM) : 'none found',
            note: turnaround ? `after ${formatDuration(turnaround.elapsedS, true)}` : undefined,
          },
          {
            term: 'Stops',
            description: formatNumber(stops.count, 0),
            note: stops.count > 0 ? `${formatDuration(stops.durationS, true)} in all` : undefined,
          },
          {
            term: 'Hidden from readers',
            description: `${formatNumber(trace.hiddenPoints, 0)} points`,
            note: `within ${formatQuantity(trace.trimM, 'm', { decimals: 0 })} of start and finish`,
          },
          ...(trace.isOnKnownLoop === null
            ? []
            : [
                {
                  term: 'Against your last recording on this loop',
                  description: trace.isOnKnownLoop ? 'the same way' : 'another way',
                },
              ]),
        ]}
      />
      {trace.notes.length > 0 ? (
        <ul className="mt-3 list-disc pl-5 text-sm text-ink-soft">
          {trace.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      ) : null}
    </>
  );
}
