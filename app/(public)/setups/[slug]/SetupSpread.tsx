import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { CarDeviation } from '@/lib/stats/setupShrinkage';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';
import { SpreadStrip } from './SpreadStrip';
import { spreadRows } from './spreadRows';

interface SetupSpreadProps {
  view: Pick<SetupView, 'title' | 'sessions'>;
  chosen: Pick<
    ClassEstimate,
    'classLabel' | 'estimateWhPerKm' | 'lowWhPerKm' | 'highWhPerKm' | 'intervalKind'
  >;
  cars: readonly CarDeviation[];
  /** Of which these are the latest. */
  of: { cars: number; sessions: number };
  display: Display;
}

/** How far each car and day lies from the setup's estimate, and how much of that the model believes. */
export function SetupSpread({ view, chosen, cars, of, display }: SetupSpreadProps) {
  const rows = spreadRows(cars, view.sessions, display);
  const days = rows.length - cars.length;
  const summary = `${view.title} at ${chosen.classLabel}: ${of.cars} ${of.cars === 1 ? 'car' : 'cars'} on a loop, ${of.sessions} ${of.sessions === 1 ? 'session' : 'sessions'}, against the estimate of ${fittedText(chosen, display)}.${days < of.sessions ? ` Drawn are the latest ${days} sessions, with their cars.` : ''}`;
  return (
    <Section
      id="shrinkage"
      title="Cars and days, shrunk"
      note="Few runs that lie far off are more likely luck than a different car. The fit therefore keeps only a part of each deviation: more of it, the more runs stand behind it and the more cars differ at all."
      wide
    >
      <FigureWithTable
        caption={summary}
        reading="Read each line from the ring, the mean as normalised, to the diamond, what the model believes: the longer the line, the less of the deviation it believes. A day’s percentage comes on top of its car’s; the 95 % intervals are those of the percentages."
        tableCaption={`Cars and days of ${view.title} at ${chosen.classLabel}`}
        table={{
          columns: [
            { header: 'Car and loop' },
            { header: 'Day', align: 'start' },
            { header: 'Runs' },
            { header: 'Mean as normalised', unit: unitSymbol(display.consumption) },
            { header: 'From the estimate', unit: `in ${senseOf(display.consumption).quantity}` },
            { header: 'Believed of it', unit: `in ${senseOf(display.consumption).quantity}` },
            { header: '95 % interval' },
            { header: 'Share kept' },
          ],
          rows: rows.map((row) => [
            row.car,
            <span key="day" className="whitespace-nowrap">
              {row.day === '' ? 'all days' : <Day of={row.day} />}
            </span>,
            String(row.runs),
            consumptionNumber(row.meanWhPerKm, display),
            row.fromEstimate,
            row.effect,
            row.interval,
            row.kept,
          ]),
        }}
      >
        <SpreadStrip
          title={`Cars and days of ${view.title} as normalised and as believed`}
          desc={summary}
          rows={rows}
          shown={(whPerKm) => fromCanonical(whPerKm, display.consumption)}
          estimate={{
            value: fromCanonical(chosen.estimateWhPerKm, display.consumption),
            label: `estimate ${fittedText(chosen, display)}`,
          }}
          axisLabel={`normalised ${senseOf(display.consumption).quantity}, ${unitSymbol(display.consumption)}`}
        />
      </FigureWithTable>
      <p className="max-w-[46rem] text-sm text-ink-soft">
        A car is known by its runs of the model’s other setups too, and counts anew on another loop. The share
        kept holds for a deviation that all of the car’s runs have in common.
      </p>
    </Section>
  );
}
