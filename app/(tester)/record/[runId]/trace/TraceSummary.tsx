import { DefinitionList } from '@/app/ui/DefinitionList';
import type { DraftTrace } from '@/lib/registry/traces/draftTrace';
import type { Display } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { showNumber, showQuantity, withReadersMark } from '@/lib/units/show';

export function TraceSummary({ trace, display }: { trace: DraftTrace; display: Display }) {
  const km = (metres: number) => showQuantity(metres, 'distance', display, { decimals: 2 });
  const { turnaround, stops } = trace;
  return (
    <>
      <DefinitionList
        columns={2}
        items={[
          { term: 'File', description: trace.fileName },
          {
            term: 'Points used',
            description: `${showNumber(trace.pointsUsed, 0, display)} of ${showNumber(trace.pointsRead, 0, display)}`,
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
            description: showNumber(stops.count, 0, display),
            note: stops.count > 0 ? `${formatDuration(stops.durationS, true)} in all` : undefined,
          },
          {
            term: 'Hidden from readers',
            description: `${showNumber(trace.hiddenPoints, 0, display)} points`,
            note: `within ${showQuantity(trace.trimM, 'height', display, { decimals: 0 })} of start and finish`,
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
            <li key={note}>{withReadersMark(note, display)}</li>
          ))}
        </ul>
      ) : null}
    </>
  );
}
