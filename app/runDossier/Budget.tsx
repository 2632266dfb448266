import { DefinitionList } from '@/app/ui/DefinitionList';
import { Figure } from '@/app/ui/figures/Figure';
import { DOF_CAP } from '@/lib/numerics/studentT';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { formatNumber, formatWithUncertainty } from '@/lib/units/format';
import { budgetFigure } from './budgetFigure';
import { decimalsFor, percent } from './numbers';
import type { RunOfFigure } from './runSource';

const SCOPE_MEANINGS = [
  ['run', 'Of this run alone'],
  ['session', 'Shared by the runs of one day'],
  ['car', 'Shared by all runs of this car'],
  ['model', 'Shared by all runs of this model'],
  ['method', 'Shared by all runs of all models'],
] as const;

/** Where the uncertainty of the number comes from, and what it has in common with other runs. */
export function Budget({ run, view }: { run: NormalisedRun; view: RunOfFigure }) {
  const decimals = decimalsFor(run.uWhPerKm, 1, 3);
  const dof = run.effectiveDof >= DOF_CAP ? 'infinite' : formatNumber(run.effectiveDof, 0);
  const coverage = (run.interval95[1] - run.normalisedWhPerKm) / run.uWhPerKm;
  const text = (whPerKm: number) => formatNumber(whPerKm, decimals);
  return (
    <>
      <DefinitionList
        columns={2}
        items={[
          {
            term: 'Result',
            description: formatWithUncertainty(run.normalisedWhPerKm, run.uWhPerKm, 'Wh/km'),
            note: `combined standard uncertainty, ${percent(run.relativeUncertainty, 1)}`,
          },
          {
            term: '95 % interval',
            description: `${text(run.interval95[0])} to ${text(run.interval95[1])} Wh/km`,
            note: `coverage factor ${formatNumber(coverage, 2)}, effective degrees of freedom ${dof}`,
          },
          ...SCOPE_MEANINGS.flatMap(([scope, term]) => {
            const u = run.uByScope[scope];
            // the first version of the method had no method scope
            return u === undefined
              ? []
              : [
                  {
                    term,
                    description: `${text(u)} Wh/km`,
                    note: `${scope} scope, standard uncertainty`,
                  },
                ];
          }),
        ]}
      />
      <p className="my-4 max-w-[38rem] text-sm text-ink-soft">
        What two runs share does not count in their difference: runs of one car on one day differ by less than
        their own intervals suggest.
      </p>
      <Figure figure={budgetFigure(view, run)} />
    </>
  );
}
