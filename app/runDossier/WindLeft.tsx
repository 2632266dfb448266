import { DefinitionList } from '@/app/ui/DefinitionList';
import type { WindLeft as WindLeftOnRun } from '@/lib/physics/runWind';
import type { RunView } from '@/lib/registry/runs/run';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';
import { decimalsFor, percent } from './numbers';

const speed = (mps: number) => formatQuantity(mps, 'm/s', { decimals: 1 });

/** “A loop cancels the wind”, in this run's numbers. */
export function WindLeft({ wind }: { wind: WindLeftOnRun }) {
  const decimals = decimalsFor(wind.uLeftWhPerKm, 1, 2);
  return (
    <>
      <p className="mb-4 max-w-[38rem]">
        Out and back, the mean headwind was {speed(wind.meanHeadwindMps)}: that part the loop cancels. The
        square of the wind does not cancel, and a crosswind adds drag in both directions.
      </p>
      <DefinitionList
        items={[
          {
            term: 'Along the route, at car height',
            description: speed(wind.alongWindMps),
            note: `raises air drag by ${percent(wind.alongOfAero, 2)}`,
          },
          {
            term: 'Across the route, at car height',
            description: speed(wind.crossWindMps),
            note: `raises air drag by ${percent(wind.crossOfAero, 2)}`,
          },
          {
            term: 'Left on this run',
            description: `${formatQuantity(wind.leftWhPerKm, 'Wh/km', { decimals, signed: true })} ± ${formatNumber(wind.uLeftWhPerKm, decimals)}`,
            note: `${percent(wind.ofAero, 2, true)} of air drag, ${percent(wind.ofConsumption, 2, true)} of the measured consumption; taken out in the wind step`,
          },
        ]}
      />
      <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
        Both winds are root mean squares over the loop, with the gusts and with what is not known of the
        report: a calm day is not taken as a certain one.
      </p>
    </>
  );
}

/** The wind that the two legs' energies imply beside the one that was reported. */
export function LegWind({ legWind }: { legWind: NonNullable<NonNullable<RunView['result']>['legWind']> }) {
  const { impliedHeadwindMps, reportedHeadwindMps, standardUncertaintyMps } = legWind;
  const difference = impliedHeadwindMps - reportedHeadwindMps;
  const standardised = difference / standardUncertaintyMps;
  return (
    <>
      <DefinitionList
        items={[
          {
            term: 'Headwind on the way out, by the energies of the legs',
            description: headwind(impliedHeadwindMps),
          },
          { term: 'The same, by the weather report', description: headwind(reportedHeadwindMps) },
          {
            term: 'Difference',
            description: formatWithUncertainty(difference, standardUncertaintyMps, 'm/s', {
              decimals: 1,
              signed: true,
            }),
            note: `${formatNumber(Math.abs(standardised), 1)} standard uncertainties: ${
              Math.abs(standardised) <= 2 ? 'the two agree' : 'the two do not agree'
            }`,
          },
        ]}
      />
      <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
        The leg that costs more had the wind against it, once its climb is accounted for. A disagreement
        beyond two standard uncertainties points to another wind at the road, a wrong climb or a misread
        turnaround.
      </p>
    </>
  );
}

function headwind(mps: number): string {
  const text = formatQuantity(Math.abs(mps), 'm/s', { decimals: 1 });
  return mps < 0 ? `${text} from behind` : `${text} from ahead`;
}
