import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { BudgetBars } from '@/app/ui/figures/BudgetBars';
import { DOF_CAP } from '@/lib/numerics/studentT';
import type { BudgetEntry, NormalisedRun } from '@/lib/physics/normalise';
import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { additiveUnit } from '@/lib/units/sense';
import {
  budgetPlace,
  placeOf,
  showFactor,
  showNumber,
  showQuantity,
  showSignificant,
  showWithUncertainty,
} from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { percent } from './numbers';

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
export function Budget({ run, display }: { run: NormalisedRun; display: Display }) {
  const large = run.budget.filter((entry) => entry.shareOfVariance >= SMALLEST_BAR);
  const rest = run.budget.length - large.length;
  const restShare = Math.max(0, 1 - large.reduce((sum, entry) => sum + entry.shareOfVariance, 0));
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
  const place = placeOf(run.normalisedWhPerKm, run.uWhPerKm, unit, display);
  const dof = run.effectiveDof >= DOF_CAP ? 'infinite' : showNumber(run.effectiveDof, 0, display);
  const coverage = (run.interval95[1] - run.normalisedWhPerKm) / run.uWhPerKm;
  const text = (whPerKm: number, decimals = place) =>
    showQuantity(whPerKm, unit, display, { decimals, bare: true });
  const part = (whPerKm: number) => text(whPerKm, budgetPlace(place));
  return (
    <>
      <DefinitionList
        columns={2}
        items={[
          {
            term: 'Result',
            description: showWithUncertainty(run.normalisedWhPerKm, run.uWhPerKm, unit, display),
            note: `combined standard uncertainty, ${percent(run.relativeUncertainty, 1, display)}`,
          },
          {
            term: '95 % interval',
            description: `${text(run.interval95[0])} to ${text(run.interval95[1])} ${symbol}`,
            note: `coverage factor ${showFactor(coverage, display)}, effective degrees of freedom ${dof}`,
          },
          ...SCOPE_MEANINGS.flatMap(([scope, term]) => {
            const u = run.uByScope[scope];
            // the first version of the method had no method scope
            return u === undefined
              ? []
              : [
                  {
                    term,
                    description: `${part(u)} ${symbol}`,
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
            .map((entry) => `${entry.label} ${percent(entry.shareOfVariance, 0, display)}`)
            .join(', ')}.`}
          bars={[
            ...large.map((entry) => ({
              key: entry.input,
              label: entry.label,
              share: entry.shareOfVariance,
              text: `${part(entry.contributionWhPerKm)} ${symbol} · ${percent(entry.shareOfVariance, 1, display)}`,
              scope: entry.scope,
            })),
            ...(rest > 0
              ? [
                  {
                    key: 'rest',
                    label: `${rest} smaller ones together`,
                    share: restShare,
                    text: percent(restShare, 1, display),
                  },
                ]
              : []),
          ]}
        />
        <figcaption className="mt-3 max-w-[46rem] text-sm">
          Contributions add in squares to {text(run.uWhPerKm)} {symbol}.
        </figcaption>
      </figure>
      <details>
        <summary className="inline-flex min-h-9 items-center text-sm text-accent underline underline-offset-4">
          The whole budget: {run.budget.length} inputs
        </summary>
        <BudgetTable entries={run.budget} place={place} display={display} />
      </details>
    </>
  );
}

interface BudgetTableProps {
  entries: readonly BudgetEntry[];
  /** Of the result, in the unit of the budget. */
  place: number;
  display: Display;
}

function BudgetTable({ entries, place, display }: BudgetTableProps) {
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
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
          cell: (entry) => withUnit(showNumber(entry.value, placesOf(entry), display), entry.unit),
        },
        {
          key: 'u',
          header: 'Standard uncertainty',
          align: 'end',
          cell: (entry) => withUnit(showNumber(entry.u, placesOf(entry), display), entry.unit),
        },
        { key: 'distribution', header: 'Distribution', cell: (entry) => entry.distribution },
        {
          key: 'dof',
          header: 'Degrees of freedom',
          align: 'end',
          cell: (entry) => (entry.dof === null ? 'infinite' : showNumber(entry.dof, 0, display)),
        },
        { key: 'scope', header: 'Scope', cell: (entry) => entry.scope },
        {
          key: 'sensitivity',
          header: 'Sensitivity',
          align: 'end',
          cell: (entry) =>
            `${showSignificant(fromCanonical(entry.sensitivity, unit), 3, display)} ${entry.unit === '' ? symbol : `${symbol} per ${entry.unit}`}`,
        },
        {
          key: 'contribution',
          header: 'Contribution',
          unit: symbol,
          align: 'end',
          cell: (entry) =>
            showQuantity(entry.contributionWhPerKm, unit, display, {
              decimals: budgetPlace(place),
              bare: true,
            }),
        },
        {
          key: 'share',
          header: 'Of the variance',
          unit: '%',
          align: 'end',
          cell: (entry) => showNumber(100 * entry.shareOfVariance, 1, display),
        },
      ]}
      footnote="The wind inputs carry their second order too: at calm a linear budget would see no wind at all."
    />
  );
}

function placesOf(entry: BudgetEntry): number {
  return entry.u > 0 ? placeForUncertainty(entry.u) : 3;
}
