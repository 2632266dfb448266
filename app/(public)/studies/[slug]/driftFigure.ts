import type { FigureDescription } from '@/app/ui/figures/description';
import { endsText, percentText, signedText } from '@/lib/answers/differenceText';
import type { ShownStudyRun, StudyView } from '@/lib/registry/studies/study';
import { dateText, dayWords } from '@/lib/run/localDate';
import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import { type Drift, driftOf } from '@/lib/study/drift';
import { letterOf, type StudyPlan } from '@/lib/study/plan';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { showNumber, showQuantity } from '@/lib/units/show';

type Point = Drift<ShownStudyRun & { z: number }>['points'][number];

/** Fewer say nothing of a drift. */
const LEAST_POINTS = 4;

/** Whether runs went up or down through their days; undefined where too few can tell. */
export function driftFigure(
  view: StudyView,
  plan: StudyPlan,
  display: Display,
): { sentence: string; figure: FigureDescription } | undefined {
  const counting = view.sessions.flatMap(({ runs }) =>
    runs.flatMap(({ run }) => (run.whPerKm === null ? [] : [{ ...run, z: Math.log(run.whPerKm) }])),
  );
  const { points, perHour, interval } = driftOf(counting);
  if (points.length < LEAST_POINTS || perHour === null || interval === null) return undefined;
  const unit = display.consumption;
  const sense = senseOf(unit);
  const sentence = driftSentence(perHour, interval, display);
  const percent = (log: number) => percentIn(unit, percentOf(log));
  const last = Math.max(...points.map(({ hours }) => hours));
  const middle = points.reduce((sum, { hours }) => sum + hours, 0) / points.length;
  const days = new Set(points.map(({ run }) => run.sessionId)).size;
  const figure: FigureDescription = {
    title: sentence,
    desc: points.map((point) => `${wordsOf(point, plan)}: ${offText(point, display)}`).join('. '),
    reading: `Each mark is one run: how far it lies off the mean of its own setup on its own day, by the hours since the first run of that day. The line is what all days say together, with what is known of temperature and wind adjusted already. A setup that was driven once on a day has no mean to be off.`,
    counts: `${points.length} runs on ${days} ${days === 1 ? 'day' : 'days'}`,
    source: { path: `/studies/${view.slug}`, asOf: dateText(view.asOf) },
    isDemo: view.world === 'demo',
    mark: display.mark,
    drawing: {
      kind: 'scatter',
      points: points.map(({ run, hours, off }, row) => ({
        key: String(run.number),
        x: hours,
        y: percent(off),
        hollow: run.setupId === plan.baselineId,
        row,
      })),
      line: [0, last].map((hours) => ({ x: hours, y: percent(perHour * (hours - middle)) })),
      xLabel: 'hours since the first run of the day',
      yLabel: `off its own mean, % of ${sense.quantity}`,
      pointLabel: 'run of another setup',
      hollowLabel: 'run of the baseline',
      lineLabel: 'drift of all days together',
    },
    table: {
      caption: 'Runs in the order of time, with what the air did',
      columns: [
        { header: 'Run' },
        { header: 'Hours into the day', unit: 'h' },
        { header: 'Off its own mean', unit: '%' },
        { header: 'Air' },
        { header: 'Wind' },
      ],
      rows: points.map((point) => {
        const { airTemperatureC: air, windSpeedMps: wind } = point.run;
        return [
          wordsOf(point, plan),
          showNumber(point.hours, 1, display),
          signedText(percentOf(point.off), display),
          air === null ? '–' : showQuantity(air, 'temperature', display, { decimals: 0 }),
          wind === null ? '–' : showQuantity(wind, 'wind', display, { decimals: 1 }),
        ];
      }),
    },
  };
  return { sentence, figure };
}

function driftSentence(perHour: number, interval: [number, number], display: Display): string {
  const ends = percentEnds(interval) as [number, number];
  const place = placeForInterval(...percentEndsIn(display.consumption, ends));
  const text = `${percentText(percentOf(perHour), display, place)} an hour (${endsText(ends, display, place)})`;
  const { quantity } = senseOf(display.consumption);
  return interval[0] <= 0 && interval[1] >= 0
    ? `Nothing shows that ${quantity} crept up or down in the course of a day: ${text}.`
    : `In the course of a day ${quantity} drifted by ${text}.`;
}

function wordsOf({ run }: Point, plan: StudyPlan): string {
  return `${dayWords(run.day)}, ${letterOf(plan, run.setupId)}`;
}

function offText({ off }: Point, display: Display): string {
  return percentText(percentOf(off), display);
}
