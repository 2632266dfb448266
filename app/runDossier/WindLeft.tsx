import { DefinitionList } from '@/app/ui/DefinitionList';
import type { WindLeft as WindLeftOnRun } from '@/lib/physics/runWind';
import type { RunView } from '@/lib/registry/runs/run';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';
import { percent } from './numbers';

/** As weather reports give a wind: to tenths of a metre per second, whole numbers in smaller units. */
function windText(mps: number, display: Display): string {
  return showQuantity(mps, 'wind', display, { decimals: display.wind === 'm/s' ? 1 : 0 });
}

/** “A loop cancels the wind”, in this run's numbers. */
export function WindLeft({ wind, display }: { wind: WindLeftOnRun; display: Display }) {
  return (
    <>
      <p className="mb-4 max-w-[38rem]">
        Out and back, the mean headwind was {windText(wind.meanHeadwindMps, display)}: that part the loop
        cancels. The square of the wind does not cancel, and a crosswind adds drag in both directions.
      </p>
      <DefinitionList
        items={[
          {
            term: 'Along the route, at car height',
            description: windText(wind.alongWindMps, display),
            note: `raises air drag by ${percent(wind.alongOfAero, 2, display)}`,
          },
          {
            term: 'Across the route, at car height',
            description: windText(wind.crossWindMps, display),
            note: `raises air drag by ${percent(wind.crossOfAero, 2, display)}`,
          },
          {
            term: 'Left on this run',
            description: showWithUncertainty(
              wind.leftWhPerKm,
              wind.uLeftWhPerKm,
              additiveUnit(display.consumption),
              display,
              { signed: true },
            ),
            note: `${percent(wind.ofAero, 2, display, true)} of air drag, ${percent(wind.ofConsumption, 2, display, true)} of the measured consumption; taken out in the wind step`,
          },
        ]}
      />
      <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
        Both winds are averaged by their squares over the loop, since drag goes with the square. Gusts, and
        what the report leaves open, are in them: a report of calm is not taken to be certain.
      </p>
    </>
  );
}

/** The wind that the two legs' energies imply beside the one that was reported. */
export function LegWind({
  legWind,
  display,
}: {
  legWind: NonNullable<NonNullable<RunView['result']>['legWind']>;
  display: Display;
}) {
  const { impliedHeadwindMps, reportedHeadwindMps, standardUncertaintyMps } = legWind;
  const difference = impliedHeadwindMps - reportedHeadwindMps;
  const standardised = difference / standardUncertaintyMps;
  return (
    <>
      <DefinitionList
        items={[
          {
            term: 'Headwind on the way out, by the energies of the legs',
            description: headwind(impliedHeadwindMps, display),
          },
          { term: 'The same, by the weather report', description: headwind(reportedHeadwindMps, display) },
          {
            term: 'Difference',
            description: showWithUncertainty(difference, standardUncertaintyMps, 'wind', display, {
              signed: true,
            }),
            note: `${showNumber(Math.abs(standardised), 1, display)} times its ±: ${
              Math.abs(standardised) <= 2 ? 'the two agree' : 'the two do not agree'
            }`,
          },
        ]}
      />
      <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
        The leg that costs more had the wind against it, once its climb is accounted for. A difference of more
        than twice its ± points to another wind at the road, a wrong climb or a misread turnaround.
      </p>
    </>
  );
}

function headwind(mps: number, display: Display): string {
  const text = windText(Math.abs(mps), display);
  return mps < 0 ? `${text} from behind` : `${text} from ahead`;
}
