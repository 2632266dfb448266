import type { FigureDescription } from '@/app/ui/figures/description';
import { powerMet95 } from '@/lib/physics/estimate/chargingSpan';
import type { TaperPoint } from '@/lib/physics/estimate/taper';
import type { ChargingView } from '@/lib/registry/models/charging';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import { THIN_SPACE } from '@/lib/units/format';
import { showEstimate, showInterval, showPlain, showShare } from '@/lib/units/show';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { hrefWith } from '../../rankings/query';

/** Outside every state of charge: no part of an assumed curve is drawn as one that is known. */
const NOWHERE = [-1, -1] as const;

const BAND_WORDS =
  'The band is what a battery takes in 95 of 100 cases, and most of what a charging time may be off by; the rest is what the capacity may be off by.';

/** "10 to 80 % in 31 min (25 to 38)", as far as it can be said. */
export function spanText({ span }: Pick<ChargingView, 'span'>, display: Display): string | undefined {
  if (span === null) return undefined;
  const [low, high] = span.interval95S;
  const shown = showEstimate({ value: span.timeS, low, high }, 'min', display);
  const from = showShare(span.fromCharge, display, { bare: true, decimals: 0 });
  const to = showShare(span.toCharge, display, { decimals: 0 });
  return `${from} to ${to} in ${shown.value} ${shown.symbol} (${shown.interval})`;
}

/** A number as it was stated, without zeros that say nothing. */
function stated(canonical: number, unit: UnitCode, display: Display): string {
  return showPlain(fromCanonical(canonical, unit), display);
}

export function powerText(powerW: number, display: Display): string {
  return `${stated(powerW, 'kW', display)}${THIN_SPACE}kW`;
}

/** "40 %: 118 kW". */
export function pointText({ charge, powerW }: TaperPoint, display: Display): string {
  return `${stated(charge, '%', display)}${THIN_SPACE}%: ${powerText(powerW, display)}`;
}

/** Charging power over the state of charge, as stated or assumed; nothing where there is no curve. */
export function chargingFigure(view: ChargingView, display: Display): FigureDescription | undefined {
  const { curve, sheet, slug, name } = view;
  if (curve === null) return undefined;
  const isStated = curve.basis === 'stated';
  const said = Object.fromEntries(displayParameters(display));
  const points = curve.points.map(({ charge, powerW }) => ({
    x: fromCanonical(charge, '%'),
    y: fromCanonical(powerW, 'kW'),
  }));
  const ends = [points[0]?.x ?? 0, points.at(-1)?.x ?? 0] as const;
  const greatestW = Math.max(...curve.points.map(({ powerW }) => powerW));
  const does = spanText(view, display) ?? `up to ${powerText(greatestW, display)}`;
  const held = [
    { x: 0, y: points[0]?.y ?? 0 },
    ...points.map((point, row) => (isStated ? point : { ...point, row })),
    { x: 100, y: points.at(-1)?.y ?? 0 },
  ];
  const line = held.filter(({ x }, index) => index === 0 || x > (held[index - 1]?.x ?? 0));
  const [least, most] = powerMet95(curve);
  const basis = isStated ? 'by the stated curve' : 'by an assumed curve';
  return {
    address: { kind: 'charging', key: slug, query: said },
    title: `${name}: ${does}, ${basis}.`,
    desc: curve.points.map((point) => pointText(point, display)).join('. '),
    reading: isStated
      ? `A dot is a stated point; the power is what enters the battery. Outside the points the curve is held level and dashed. ${BAND_WORDS}`
      : `Nobody has stated a curve of this model: the dashed line is a typical shape, full up to half a charge and falling from there. ${BAND_WORDS}`,
    counts: isStated
      ? `${points.length} stated points · source: ${sheet?.source ?? ''}`
      : sheet === null
        ? 'assumed from the usable capacity'
        : `assumed below a stated peak of ${powerText(sheet.peakPowerW ?? 0, display)} · source: ${sheet.source}`,
    source: { path: hrefWith(`/models/${slug}`, {}, said), asOf: dateText(view.asOf) },
    isDemo: view.world === 'demo',
    mark: display.mark,
    drawing: {
      kind: 'scatter',
      points: isStated ? points.map((point, row) => ({ key: String(point.x), ...point, row })) : [],
      line,
      band: line.map(({ x, y }) => ({ x, low: least * y, high: most * y })),
      bandLabel: 'what the battery takes in 95 of 100 cases',
      reach: isStated ? ends : NOWHERE,
      xDomain: [0, 100],
      yDomain: [0, 1.05 * most * fromCanonical(greatestW, 'kW')],
      xLabel: 'state of charge, %',
      yLabel: 'charging power, kW',
      pointLabel: 'stated',
      lineLabel: isStated ? 'straight between them' : 'assumed',
    },
    table: {
      caption: isStated ? 'Charging power as stated' : 'Charging power as assumed',
      columns: [
        { header: 'State of charge', unit: '%' },
        { header: 'Charging power', unit: 'kW' },
        { header: 'In 95 of 100 cases', unit: 'kW' },
      ],
      rows: curve.points.map(({ charge, powerW }) => [
        stated(charge, '%', display),
        stated(powerW, 'kW', display),
        showInterval(least * powerW, most * powerW, 'kW', display, { bare: true }),
      ]),
    },
  };
}
