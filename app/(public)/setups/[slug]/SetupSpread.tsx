import { percent } from '@/app/runDossier/numbers';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { Section } from '@/app/ui/Section';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { CarDeviation } from '@/lib/stats/setupShrinkage';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, consumptionText } from '../../consumptionText';
import { SpreadStrip } from './SpreadStrip';
import { spreadRows } from './spreadRows';

interface SetupSpreadProps {
  view: Pick<SetupView, 'title' | 'sessions'>;
  chosen: Pick<ClassEstimate, 'classLabel' | 'estimateWhPerKm'>;
  cars: readonly CarDeviation[];
  /** Of which these are the latest. */
  of: { cars: number; sessions: number };
  unit: UnitCode;
}

/** How far each car and day lies from the setup's estimate, and how much of that the model believes. */
export function SetupSpread({ view, chosen, cars, of, unit }: SetupSpreadProps) {
  const rows = spreadRows(cars, view.sessions);
  const days = rows.length - cars.length;
  const summary = `${view.title} at ${chosen.classLabel}: ${of.cars} ${of.cars === 1 ? 'car' : 'cars'} on a loop, ${of.sessions} ${of.sessions === 1 ? 'session' : 'sessions'}, against the estimate of ${consumptionText(chosen.estimateWhPerKm, unit)}.${days < of.sessions ? ` Drawn are the latest ${days} sessions, with their cars.` : ''}`;
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
            { header: 'Mean as normalised', unit: unitSymbol(unit) },
            { header: 'From the estimate', unit: 'in consumption' },
            { header: 'Believed of it', unit: 'in consumption' },
            { header: '95 % interval' },
            { header: 'Share kept' },
          ],
          rows: rows.map((row) => [
            row.car,
            <span key="day" className="whitespace-nowrap">
              {row.day === '' ? 'all days' : row.day}
            </span>,
            String(row.runs),
            consumptionNumber(row.meanWhPerKm, unit),
            percent(row.fromEstimate, 1, true),
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
          shown={(whPerKm) => fromCanonical(whPerKm, unit)}
          estimate={{
            value: fromCanonical(chosen.estimateWhPerKm, unit),
            label: `estimate ${consumptionText(chosen.estimateWhPerKm, unit)}`,
          }}
          axisLabel={`normalised consumption, ${unitSymbol(unit)}`}
        />
      </FigureWithTable>
      <p className="max-w-[46rem] text-sm text-ink-soft">
        A car is known by its runs of the model’s other setups too, and counts anew on another loop. The share
        kept holds for a deviation that all of the car’s runs have in common.
      </p>
    </Section>
  );
}
