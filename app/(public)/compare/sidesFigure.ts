import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedNumber, fittedPlace } from '../consumptionText';
import { fittedRow, rawMark } from '../fittedRow';
import { compareSource } from './compareSource';

/** The compared setups by themselves, each with the plain mean of what was measured. */
export function sidesFigure(view: CompareView, baseline: ComparedSetup, display: Display): FigureDescription {
  const raw = (setup: ComparedSetup) =>
    consumptionNumber(setup.rawMeanWhPerKm, display, fittedPlace(setup, display));
  const symbol = unitSymbol(display.consumption);
  const { quantity } = senseOf(display.consumption);
  const setups = [baseline, ...view.others];
  const rows = setups.map((setup) => ({ ...fittedRow(setup, display), before: rawMark(setup, display) }));
  const named = setups
    .slice(0, 3)
    .map((setup) => `${setupInText(setup.name)} at ${fittedNumber(setup, display)}`);
  const more = setups.length > 3 ? ` and ${setups.length - 3} more` : '';
  return {
    ...compareSource('sides', view, setups, display),
    title: `At a steady ${view.classLabel} and reference conditions: ${named.join(', ')} ${symbol}${more}.`,
    desc: rows
      .map((row) => `${row.label}: ${row.text} ${symbol}, ${row.intervalText}, ${row.before.text}`)
      .join('. '),
    counts: `worked out from ${view.fit?.runCount ?? 0} runs at ${view.classLabel}`,
    drawing: {
      kind: 'interval',
      label: 'The compared setups',
      rows,
      unit: symbol,
      axisLabel: `${quantity}, ${symbol}`,
      ordered: false,
      beforeLabel: 'mean as measured',
    },
    table: {
      caption: 'Each side by itself',
      columns: [
        { header: 'Setup' },
        { header: 'Model', align: 'start' },
        { header: 'Estimate', unit: symbol },
        { header: '95 % interval', unit: symbol },
        { header: 'Mean as measured', unit: symbol },
        { header: 'Rests on', align: 'start' },
      ],
      rows: setups.map((setup, index) => [
        { text: setup.title, href: `/setups/${setup.slug}` },
        setup.model,
        rows[index]?.text ?? '',
        rows[index]?.intervalText ?? '–',
        raw(setup),
        countText(setup),
      ]),
    },
  };
}
