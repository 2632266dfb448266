import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { SetupEstimate } from '@/lib/registry/estimates/setupEstimate';
import { type Display, unitFor } from '@/lib/units/display';
import { showEstimate } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { type EstimateOfFigure, estimateSource } from './estimateSource';
import { answerWords, besideWords } from './words';

/** How far a charge lasts, each setup with its interval; where nobody knows the battery, what each draws. */
export function rangeFigure(of: EstimateOfFigure, display: Display): FigureDescription {
  const { answered, setup, speedMps } = of;
  const { first, second, asked } = answered;
  const setups = second === undefined ? [first] : [first, second];
  const isRange = setups.every(({ rangeM }) => rangeM !== null);
  const kind = isRange ? 'distance' : 'consumption';
  const unit = unitFor(kind, display);
  const symbol = unitSymbol(unit);
  const numbersOf = (one: SetupEstimate) => (isRange && one.rangeM !== null ? one.rangeM : one.whPerKm);
  const rows = setups.map((one) => {
    const numbers = numbersOf(one);
    const [low, high] = [numbers.low, numbers.high]
      .map((end) => fromCanonical(end, unit))
      .sort((a, b) => a - b);
    const text = showEstimate(numbers, kind, display);
    return {
      key: one.slug,
      label: one.title,
      href: `/setups/${one.slug}`,
      detail: setup.model,
      estimate: fromCanonical(numbers.value, unit),
      low,
      high,
      text: text.value,
      intervalText: text.interval,
      counts: countText({ runs: one.runs, cars: one.cars }),
    };
  });
  const title = setups.map((one) => answerWords(one, { asked, speedMps }, display)).join(' ');
  const beside = besideWords(asked, display);
  return {
    ...estimateSource('estimate-range', of, display),
    title,
    desc: title,
    reading: `${beside.length === 0 ? '' : `Asked for besides: ${beside.join(', ')}. `}The bar shows where 95 of 100 such trips would end, each in another car of this model. It allows for how cars, days and trips differ, and for what is assumed.`,
    counts: countText({ runs: first.runs, cars: first.cars }),
    drawing: {
      kind: 'interval',
      label: isRange ? 'Range' : 'Consumption',
      rows,
      unit: symbol,
      axisLabel: `${isRange ? 'range' : 'consumption'}, ${symbol}`,
      ordered: false,
    },
    table: {
      caption: isRange ? 'Range on this charge' : 'Consumption on this trip',
      columns: [
        { header: 'Setup' },
        { header: isRange ? 'Range' : 'Consumption', unit: symbol },
        { header: '95 % interval', unit: symbol },
        { header: 'Rests on', align: 'start' },
      ],
      rows: rows.map((row) => [{ text: row.label, href: row.href }, row.text, row.intervalText, row.counts]),
    },
  };
}
