import { DefinitionList } from '@/app/ui/DefinitionList';
import { Disclosure } from '@/app/ui/Disclosure';
import { Figure } from '@/app/ui/figures/Figure';
import { DOF_CAP } from '@/lib/numerics/studentT';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { RunView } from '@/lib/registry/runs/run';
import type { Display } from '@/lib/units/display';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, showFactor, showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { budgetFigure } from './budgetFigure';
import { DisplayScaleWords } from './DisplayScaleWords';
import { percent, shownResult } from './numbers';
import type { RunOfFigure } from './runSource';

const SCOPE_MEANINGS = [
  ['run', 'Of this run alone'],
  ['session', 'Shared by the runs of one day'],
  ['car', 'Shared by all runs of this car'],
  ['model', 'Shared by all runs of this model'],
  ['method', 'Shared by all runs of all models'],
] as const;

interface BudgetProps {
  run: NormalisedRun;
  view: RunOfFigure & Pick<RunView, 'displayScale'>;
  display: Display;
}

/** Where the uncertainty of the number comes from, and what it has in common with other runs. */
export function Budget({ run, view, display }: BudgetProps) {
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
  const result = shownResult(run, unit, display);
  const place = result.decimals;
  const dof = run.effectiveDof >= DOF_CAP ? 'infinite' : showNumber(run.effectiveDof, 0, display);
  const coverage = (run.interval95[1] - run.normalisedWhPerKm) / run.uWhPerKm;
  const part = (whPerKm: number) =>
    showQuantity(whPerKm, unit, display, { decimals: budgetPlace(place), bare: true });
  return (
    <>
      <DefinitionList
        columns={2}
        items={[
          {
            term: 'Result',
            description: showWithUncertainty(run.normalisedWhPerKm, run.uWhPerKm, unit, display, {
              decimals: place,
            }),
            note: `± ${percent(run.relativeUncertainty, 1, display)} of it`,
          },
          {
            term: '95 % interval',
            description: `${result.interval} ${symbol}`,
          },
          ...SCOPE_MEANINGS.flatMap(([scope, term]) => {
            const u = run.uByScope[scope];
            // the first version of the method had no method scope
            return u === undefined
              ? []
              : [
                  {
                    term,
                    description: `± ${part(u)} ${symbol}`,
                    note: `“${scope}” in the table`,
                  },
                ];
          }),
        ]}
      />
      <p className="my-4 max-w-[38rem] text-sm text-ink-soft">
        What two runs share does not count in their difference: runs of one car on one day differ by less than
        their own intervals suggest.
      </p>
      <Figure figure={budgetFigure(view, run, display)} />
      <Disclosure
        title="How the interval is made"
        says="The interval reaches as far to either side as the ± times a factor, which is the larger the less the ± itself rests on."
      >
        <p className="max-w-[46rem]">
          Here the coverage factor is {showFactor(coverage, display)}, at effective degrees of freedom of{' '}
          {dof}; the ± is the combined standard uncertainty (JCGM 100).
        </p>
      </Disclosure>
      <Disclosure title="The energy display of this car">
        <div className="mt-2">
          <DisplayScaleWords scale={view.displayScale} display={display} />
        </div>
      </Disclosure>
    </>
  );
}
