import type { FigureDescription } from '@/app/ui/figures/description';
import { answerOf, resultText } from '@/lib/answers/answer';
import { differencePlace, signedText } from '@/lib/answers/differenceText';
import type { LiveAnswer } from '@/lib/registry/home/liveAnswers';
import { dateText } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import { type Display, displayParameters } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { forestRows } from '../compare/forestRows';
import { intervalCells, intervalColumns, markLabels, OF_RANKING } from '../differenceIntervals';
import { answerHref } from './answerHref';

/** One answer as a figure that stands by itself: which model, at which speed, what the change did. */
export function answerFigure(answer: LiveAnswer, display: Display): FigureDescription {
  const { baseline, setup, model, classLabel, classKey, world } = answer;
  const { quantity } = senseOf(display.consumption);
  const said = Object.fromEntries(displayParameters(display));
  const place = differencePlace(answer, display);
  const rows = forestRows([answer], () => setup.title, display);
  return {
    address: {
      kind: 'answer',
      key: classKey,
      query: { ...said, setup: [baseline.slug, setup.slug], world },
    },
    title: `${model} at ${classLabel}: ${answerOf(answer, questionOf(answer), display).sentence}`,
    desc: rows.map(({ label, text, note }) => `${label} against ${baseline.title}: ${text}, ${note}`).join(),
    counts: `${answer.runs} runs of the two at ${classLabel}`,
    source: { path: answerHref(answer, said.unit), asOf: dateText(answer.fittedAt) },
    isDemo: world === 'demo',
    mark: display.mark,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'The difference has no interval to draw.' }
        : {
            kind: 'forest',
            rows,
            axisLabel: `difference in ${quantity}, %`,
            ...markLabels(OF_RANKING),
          },
    table: {
      caption: `${model} at ${classLabel}, against ${setupInText(baseline.title)}`,
      columns: [
        { header: 'Setup' },
        { header: 'Difference', unit: '%' },
        ...intervalColumns(OF_RANKING),
        { header: 'Result', align: 'start' },
      ],
      rows: [
        [
          { text: setup.title, href: `/setups/${setup.slug}` },
          answer.percent === null ? '–' : signedText(answer.percent, display, place),
          ...intervalCells(answer, OF_RANKING, display, place),
          answer.refusal ?? resultText(answer),
        ],
      ],
    },
  };
}

export const questionOf = ({ setup, baseline }: LiveAnswer) => ({
  setup: setup.title,
  baseline: baseline.title,
});
