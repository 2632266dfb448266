import type { FigureDescription } from '@/app/ui/figures/description';
import type { BudgetEntry, NormalisedRun } from '@/lib/physics/normalise';
import { placeForUncertainty } from '@/lib/units/digits';
import { formatNumber, THIN_SPACE } from '@/lib/units/format';
import { percent, significant } from './numbers';
import { type RunOfFigure, runSource } from './runSource';

/** Bars below this share of the variance would not be seen; the table has them all. */
const SMALLEST_BAR = 0.005;

/** Where the uncertainty of the number comes from, largest first; the table is the whole budget. */
export function budgetFigure(of: RunOfFigure, run: NormalisedRun): FigureDescription {
  const entries = run.budget.map((entry, row) => ({ ...entry, row }));
  const large = entries.filter((entry) => entry.shareOfVariance >= SMALLEST_BAR);
  const rest = entries.length - large.length;
  const restShare = Math.max(0, 1 - large.reduce((sum, entry) => sum + entry.shareOfVariance, 0));
  const largest = large
    .slice(0, 3)
    .map((entry) => `${entry.label} ${percent(entry.shareOfVariance, 0)}`)
    .join(', ');
  const total = `${significant(run.uWhPerKm, 2)} Wh/km`;
  return {
    ...runSource('budget', of),
    title: `Run ${of.number}: where its standard uncertainty of ${total} comes from. The largest are ${largest}.`,
    desc: large.map((entry) => `${entry.label}: ${percent(entry.shareOfVariance, 1)}`).join('. '),
    reading: `Contributions add in squares to ${total}. The wind inputs carry their second order too: at calm a linear budget would see no wind at all.`,
    drawing: {
      kind: 'budget',
      axisLabel: 'share of the variance, %',
      bars: [
        ...large.map((entry) => ({
          key: entry.input,
          label: entry.label,
          share: entry.shareOfVariance,
          text: `${significant(entry.contributionWhPerKm, 2)} Wh/km · ${percent(entry.shareOfVariance, 1)}`,
          scope: entry.scope,
          row: entry.row,
        })),
        ...(rest > 0
          ? [
              {
                key: 'rest',
                label: `${rest} smaller ones together`,
                share: restShare,
                text: percent(restShare, 1),
                row: null,
              },
            ]
          : []),
      ],
    },
    table: {
      caption: `The whole uncertainty budget: ${entries.length} inputs, largest contribution first`,
      columns: [
        { header: 'Input' },
        { header: 'Value' },
        { header: 'Standard uncertainty' },
        { header: 'Distribution', align: 'start' },
        { header: 'Degrees of freedom' },
        { header: 'Scope', align: 'start' },
        { header: 'Sensitivity' },
        { header: 'Contribution', unit: 'Wh/km' },
        { header: 'Of the variance', unit: '%' },
      ],
      rows: entries.map((entry) => [
        entry.label,
        withUnit(formatNumber(entry.value, placesOf(entry)), entry.unit),
        withUnit(formatNumber(entry.u, placesOf(entry)), entry.unit),
        entry.distribution,
        entry.dof === null ? 'infinite' : formatNumber(entry.dof, 0),
        entry.scope,
        `${significant(entry.sensitivity)} ${entry.unit === '' ? 'Wh/km' : `Wh/km per ${entry.unit}`}`,
        formatNumber(entry.contributionWhPerKm, 3),
        formatNumber(100 * entry.shareOfVariance, 1),
      ]),
    },
  };
}

function withUnit(text: string, unit: string): string {
  return unit === '' ? text : `${text}${THIN_SPACE}${unit}`;
}

function placesOf(entry: BudgetEntry): number {
  return entry.u > 0 ? placeForUncertainty(entry.u) : 3;
}
