import { DefinitionList } from '@/app/ui/DefinitionList';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import type { Display } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { showNumber, showQuantity, withReadersMark } from '@/lib/units/show';
import { classBandText, percent } from './numbers';

/** How far the speeds that a result used were moved towards the loop's length. */
function scaledBy(scale: number | undefined = 1, display: Display): string {
  if (Math.abs(scale - 1) < 5e-5) return '';
  return `for the result, speeds and distance are changed by ${percent(scale - 1, 2, display, true)} towards the loop’s length; `;
}

/** What the recording says in numbers, and which of them the result was made from. */
export function TraceFacts({ trace, display }: { trace: RunTraceView; display: Display }) {
  const km = (metres: number) => showQuantity(metres, 'distance', display, { decimals: 2 });
  const kmh = (mps: number) => showQuantity(mps, 'speed', display, { decimals: 1 });
  const { cruise, use } = trace;
  const from = (key: keyof NonNullable<typeof use>['sources']) =>
    use?.sources[key] === 'trace' ? 'used for the result' : 'for comparison only';
  return (
    <>
      {use && use.reasonsNotUsed.length > 0 ? (
        <p className="mb-4 max-w-[38rem]">
          The result does not use this recording: {withReadersMark(use.reasonsNotUsed.join(' '), display)}
        </p>
      ) : null}
      <DefinitionList
        columns={2}
        items={[
          ...(cruise
            ? [
                {
                  term: 'True cruise speed',
                  description: kmh(cruise.meanSpeedMps),
                  note: `spread ${kmh(cruise.spreadMps)} over ${formatDuration(cruise.durationS, true)} of cruise; ${from('cruiseSpeed')}`,
                },
                {
                  term: `Cruise time within ${classBandText(display)}${trace.band ? ` of ${trace.band.label}` : ''}`,
                  description: percent(cruise.withinBandShare, 1, display),
                },
                {
                  term: 'Distance off the cruise speed',
                  description: percent(cruise.offCruiseShare, 1, display),
                  note: 'judged by the protocol in place of the loop’s figure where the recording is used',
                },
              ]
            : []),
          {
            term: 'Speed that air drag goes by',
            description: kmh(Math.sqrt(trace.meanSquareSpeedM2S2)),
            note: `the root of the mean squared speed, by distance; ${from('meanSquareSpeed')}`,
          },
          {
            term: 'Distance',
            description: km(trace.distanceM),
            note: use
              ? `${scaledBy(use.lengthScale, display)}loop ${km(use.distanceCheck.loopLengthM)} ± ${showQuantity(use.distanceCheck.uDifferenceM, 'height', display, { decimals: 0 })} for the difference: ${use.distanceCheck.agrees ? 'they agree' : 'they do not agree'}`
              : undefined,
          },
          {
            term: 'Duration',
            description: formatDuration(trace.durationS, true),
            note: `mean ${kmh(trace.meanSpeedMps)}`,
          },
          {
            term: 'Points',
            description: `${showNumber(trace.pointsUsed, 0, display)} of ${showNumber(trace.pointsRead, 0, display)} used`,
            note:
              trace.leftOut.length === 0
                ? 'none left out'
                : trace.leftOut
                    .map(({ reason, count }) => `${showNumber(count, 0, display)}: ${reason}`)
                    .join('; '),
          },
          {
            term: 'Speed from',
            description: trace.speedSource === 'receiver' ? 'the receiver' : 'positions, smoothed',
            note:
              trace.gaps.count === 0
                ? 'no gaps'
                : `${trace.gaps.count} gaps, ${km(trace.gaps.distanceM)} bridged straight`,
          },
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
