import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { BudgetBars } from '@/app/ui/figures/BudgetBars';
import { DOF_CAP } from '@/lib/numerics/studentT';
import type { BudgetEntry, NormalisedRun } from '@/lib/physics/normalise';
import { placeForUncertainty } from '@/lib/units/digits';
import { formatNumber, formatWithUncertainty, THIN_SPACE } from '@/lib/units/format';
import { decimalsFor, percent, significant } from './numbers';

/** Bars below this share of the variance would not be seen; the table has them all. */
const SMALLEST_BAR = 0.005;

const SCOPE_MEANINGS = [
  ['run', 'Of this run alone'],
  ['session', 'Shared by the runs of one day'],
  ['car', 'Shared by all runs of this car'],
  ['model', 'Shared by all runs of this model'],
  ['method', 'Shared by all runs of all models'],
] as const;

/** Where the uncertainty of the number comes from, and what it has in common with other runs. */
export function Budget({ run }: { run: NormalisedRun }) {
  const large = run.budget.filter((entry) => entry.shareOfVariance >= SMALLEST_BAR);
  const rest = run.budget.length - large.length;
  const restShare = Math.max(0, 1 - large.reduce((sum, entry) => sum + entry.shareOfVariance, 0));
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
      <figure className="my-6">
        <BudgetBars
          title="Shares of the variance by input"
          desc={`The largest are ${large
            .slice(0, 3)
            .map((entry) => `${entry.label} ${percent(entry.shareOfVariance, 0)}`)
            .join(', ')}.`}
          bars={[
            ...large.map((entry) => ({
              key: entry.input,
              label: entry.label,
              share: entry.shareOfVariance,
              text: `${significant(entry.contributionWhPerKm, 2)} Wh/km · ${percent(entry.shareOfVariance, 1)}`,
              scope: entry.scope,
            })),
            ...(rest > 0
              ? [
                  {
                    key: 'rest',
                    label: `${rest} smaller ones together`,
                    share: restShare,
                    text: percent(restShare, 1),
                  },
                ]
              : []),
          ]}
        />
        <figcaption className="mt-3 max-w-[46rem] text-sm">
          Contributions add in squares to {text(run.uWhPerKm)} Wh/km.
        </figcaption>
      </figure>
      <details>
        <summary className="inline-flex min-h-9 items-center text-sm text-accent underline underline-offset-4">
          The whole budget: {run.budget.length} inputs
        </summary>
        <BudgetTable entries={run.budget} />
      </details>
    </>
  );
}

function BudgetTable({ entries }: { entries: readonly BudgetEntry[] }) {
  const withUnit = (text: string, unit: string) => (unit === '' ? text : `${text}${THIN_SPACE}${unit}`);
  return (
    <DataTable
      caption="Uncertainty budget, largest contribution first"
      rows={entries}
      rowKey={(entry) => entry.input}
      columns={[
        { key: 'label', header: 'Input', rowHeader: true, cell: (entry) => entry.label },
        {
          key: 'value',
          header: 'Value',
          align: 'end',
          cell: (entry) => withUnit(formatNumber(entry.value, placesOf(entry)), entry.unit),
        },
        {
          key: 'u',
          header: 'Standard uncertainty',
          align: 'end',
          cell: (entry) => withUnit(formatNumber(entry.u, placesOf(entry)), entry.unit),
        },
        { key: 'distribution', header: 'Distribution', cell: (entry) => entry.distribution },
        {
          key: 'dof',
          header: 'Degrees of freedom',
          align: 'end',
          cell: (entry) => (entry.dof === null ? 'infinite' : formatNumber(entry.dof, 0)),
        },
        { key: 'scope', header: 'Scope', cell: (entry) => entry.scope },
        {
          key: 'sensitivity',
          header: 'Sensitivity',
          align: 'end',
          cell: (entry) =>
            `${significant(entry.sensitivity)} ${entry.unit === '' ? 'Wh/km' : `Wh/km per ${entry.unit}`}`,
        },
        {
          key: 'contribution',
          header: 'Contribution',
          unit: 'Wh/km',
          align: 'end',
          cell: (entry) => formatNumber(entry.contributionWhPerKm, 3),
        },
        {
          key: 'share',
          header: 'Of the variance',
          unit: '%',
          align: 'end',
          cell: (entry) => formatNumber(100 * entry.shareOfVariance, 1),
        },
      ]}
      footnote="The wind inputs carry their second order too: at calm a linear budget would see no wind at all."
    />
  );
}

function placesOf(entry: BudgetEntry): number {
  return entry.u > 0 ? placeForUncertainty(entry.u) : 3;
}
