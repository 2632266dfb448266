import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import { durationText, soonestSentence } from '@/lib/answers/estimateSentence';
import type { BestSpeedShown, SpeedShown } from '@/lib/registry/estimates/setupEstimate';
import type { Display } from '@/lib/units/display';
import { showEstimate } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { type EstimateOfFigure, estimateSource } from './estimateSource';

const HOUR_S = 3600;

/** How long the same trip takes at each speed that the setup was driven at. */
export function speedsFigure(
  of: EstimateOfFigure,
  speeds: BestSpeedShown,
  display: Display,
): FigureDescription {
  const { outcomes, best } = speeds;
  const title = soonestWords(speeds);
  const duration = ({ totalS }: SpeedShown) => durationText(totalS);
  const stopText = (stops: number) => (stops === 1 ? '1 stop' : `${stops} stops`);
  return {
    ...estimateSource('estimate-speeds', of, display),
    title,
    desc: outcomes.map((one) => `${one.label}: ${duration(one).value} h, ${stopText(one.stops)}`).join('. '),
    reading:
      'Driving, charging and the time lost at each stop, at each speed that this setup was driven at. Battery and charger are the same at every speed, so what is not known of them moves all bars together.',
    counts: countText({ runs: of.answered.first.runs, cars: of.answered.first.cars }),
    drawing: {
      kind: 'interval',
      label: 'Total time by cruise speed',
      rowHead: 'Cruise speed',
      rows: outcomes.map((one) => ({
        key: one.key,
        label: one.key === best.key ? `${one.label}, soonest` : one.label,
        detail: stopText(one.stops),
        estimate: one.totalS.value / HOUR_S,
        low: one.totalS.low / HOUR_S,
        high: one.totalS.high / HOUR_S,
        text: duration(one).value,
        ...(duration(one).interval === undefined ? {} : { intervalText: duration(one).interval }),
      })),
      unit: 'h',
      axisLabel: 'total time, h',
      ordered: true,
    },
    table: {
      caption: 'The same trip at each cruise speed',
      columns: [
        { header: 'Cruise speed' },
        { header: 'Total time', unit: 'h:min' },
        { header: '95 % interval', unit: 'h:min' },
        { header: 'Stops' },
        { header: 'Consumption', unit: unitSymbol(display.consumption) },
      ],
      rows: outcomes.map((one) => [
        one.label,
        duration(one).value,
        duration(one).interval ?? '–',
        String(one.stops),
        showEstimate(one.whPerKm, 'consumption', display).value,
      ]),
    },
  };
}

/** The one sentence of it, also without a figure. */
export function soonestWords({ outcomes, best, within }: BestSpeedShown): string {
  const [slowest, fastest] = within.map(
    (end) =>
      outcomes.reduce((a, b) => (Math.abs(b.speedMps - end) < Math.abs(a.speedMps - end) ? b : a)).label,
  ) as [string, string];
  return soonestSentence({ speed: best.label, totalS: best.totalS }, [slowest, fastest]);
}
