import type { FigureDescription } from '@/app/ui/figures/description';
import type { BudgetEntry, NormalisedRun } from '@/lib/physics/normalise';
import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { additiveUnit } from '@/lib/units/sense';
import { budgetPlace, showNumber, showQuantity, showSignificant } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { inputWords } from './inputWords';
import { percent, shownResult } from './numbers';
import { type RunOfFigure, runSource } from './runSource';

/** Bars below this share of the variance would not be seen; the table has them all. */
const SMALLEST_BAR = 0.005;

/** Where the uncertainty of the number comes from, largest first; the table is the whole budget. */
export function budgetFigure(of: RunOfFigure, run: NormalisedRun, display: Display): FigureDescription {
  const unit = additiveUnit(display.consumption);
  const symbol = unitSymbol(unit);
  const place = shownResult(run, unit, display).decimals;
  const text = (whPerKm: number, decimals = place) =>
    showQuantity(whPerKm, unit, display, { decimals, bare: true });
  const part = (whPerKm: number) => text(whPerKm, budgetPlace(place));
  const entries = run.budget.map((entry, row) => ({ ...entry, label: inputWords(entry.label), row }));
  const large = entries.filter((entry) => entry.shareOfVariance >= SMALLEST_BAR);
  const rest = entries.length - large.length;
  const restShare = Math.max(0, 1 - large.reduce((sum, entry) => sum + entry.shareOfVariance, 0));
  const largest = large
    .slice(0, 3)
    .map((entry) => `${inSentence(entry.label)} (${percent(entry.shareOfVariance, 0, display)})`)
    .join('; ');
  const total = `${text(run.uWhPerKm)} ${symbol}`;
  return {
    ...runSource('budget', of, display),
    title: `Run ${of.number}: where its ± ${total} comes from. The largest parts: ${largest}.`,
    desc: large.map((entry) => `${entry.label}: ${percent(entry.shareOfVariance, 1, display)}`).join('. '),
    reading: `The largest parts decide; small ones hardly matter. Together they come to ${total}. Each part is a standard uncertainty, and the shares are of the variance, which is its square. The wind inputs carry their second order too: at calm a linear budget would see no wind at all.`,
    drawing: {
      kind: 'budget',
      axisLabel: 'share of the uncertainty, %',
      bars: [
        ...large.map((entry) => ({
          key: entry.input,
          label: entry.label,
          share: entry.shareOfVariance,
          text: `${part(entry.contributionWhPerKm)} ${symbol} · ${percent(entry.shareOfVariance, 1, display)}`,
          scope: entry.scope,
          row: entry.row,
        })),
        ...(rest > 0
          ? [
              {
                key: 'rest',
                label: `${rest} smaller ones together`,
                share: restShare,
                text: percent(restShare, 1, display),
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
        { header: 'Contribution', unit: symbol },
        { header: 'Of the variance', unit: '%' },
      ],
      rows: entries.map((entry) => [
        entry.label,
        withUnit(showNumber(entry.value, placesOf(entry), display), entry.unit),
        withUnit(showNumber(entry.u, placesOf(entry), display), entry.unit),
        entry.distribution,
        entry.dof === null ? 'infinite' : showNumber(entry.dof, 0, display),
        entry.scope,
        `${showSignificant(fromCanonical(entry.sensitivity, unit), 3, display)} ${entry.unit === '' ? symbol : `${symbol} per ${entry.unit}`}`,
        part(entry.contributionWhPerKm),
        showNumber(100 * entry.shareOfVariance, 1, display),
      ]),
    },
  };
}

/** A label that begins with a capital because it stands alone, within a sentence; an abbreviation keeps its own. */
const inSentence = (label: string): string =>
  label.replace(/^\p{Lu}(?!\p{Lu})/u, (letter) => letter.toLowerCase());

function withUnit(text: string, unit: string): string {
  return unit === '' ? text : `${text}${THIN_SPACE}${unit}`;
}

function placesOf(entry: BudgetEntry): number {
  return entry.u > 0 ? placeForUncertainty(entry.u) : 3;
}
