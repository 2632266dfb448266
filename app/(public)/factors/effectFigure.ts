import type { FigureDescription, TwinCell } from '@/app/ui/figures/description';
import { answerOf, resultText, shortAnswer } from '@/lib/answers/answer';
import { differencePlace, signedText } from '@/lib/answers/differenceText';
import type { FactorEffect } from '@/lib/registry/factors/effects';
import type { FactorsView, FactorView } from '@/lib/registry/factors/factors';
import type { SpeedStepView } from '@/lib/registry/factors/speeds';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import type { WorldKey } from '@/lib/run/world';
import type { StatedDifference } from '@/lib/stats/statedDifference';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { forestRows } from '../compare/forestRows';
import {
  differenceReading,
  type IntervalNames,
  intervalCells,
  intervalColumns,
  markLabels,
  OF_RANKING,
} from '../differenceIntervals';
import { factorsSource } from './factorsSource';
import { CRUISE_SPEED, capital, levelsAsked, modelsText, speedsAsked, tooFewText } from './words';

/** One line of a forest and of its table. */
interface Line extends StatedDifference {
  setup: { setupId: string };
  name: string;
  href: string | undefined;
  detail: string;
}

/** Models first, and what they say together under them. */
function linesOf(effect: FactorEffect): Line[] {
  const models = effect.models.map((model) => ({
    ...model,
    name: model.model,
    href: `/models/${model.modelSlug}`,
    detail: `${model.setup.title} against ${model.baseline.title}`,
  }));
  return [...models, ...together(effect.pooled, effect.pooled?.models ?? 0)];
}

function together(pooled: StatedDifference | null, models: number): Line[] {
  if (pooled === null) return [];
  const name = `${capital(modelsText(models))} together`;
  return [{ ...pooled, setup: { setupId: 'together' }, name, href: undefined, detail: 'mean over models' }];
}

/** Of a model all pairs of the ranking; of models together all such means. */
const OF_FACTORS: IntervalNames = { ...OF_RANKING, simultaneous: 'all that were asked at once' };
const OF_SPEEDS: IntervalNames = { ...OF_FACTORS, ofModel: null };

const ASKED_OF_FACTORS =
  'of a model, all pairs of the ranking; of models together, all such means of the ranking';

/** One shared level against the baseline, model by model. */
export function effectFigure(view: FactorView, effect: FactorEffect, display: Display): FigureDescription {
  const { cruiseClassKey, world } = view.group;
  const lines = linesOf(effect);
  const { setup, baseline } = levelsAsked(effect);
  const title =
    effect.pooled === null
      ? `${setupAtStart(setup)} against ${setupInText(baseline)} at ${view.classLabel}. ${tooFewText(answered(effect))}`
      : `${answerOf(effect.pooled, levelsAsked(effect), display).sentence} At ${view.classLabel}, ${modelsText(effect.pooled.models)} together.`;
  return {
    ...factorsSource(
      {
        kind: 'factor',
        key: view.key,
        page: view.key,
        query: { level: effect.levelId },
        classKey: cruiseClassKey,
        world,
        asOf: view.fit?.fittedAt,
      },
      display,
    ),
    title,
    counts: `${modelsText(effect.of)} at ${view.classLabel} · worked out from ${view.fit?.runCount ?? 0} runs`,
    ...forestOf(lines, display, {
      from: setupInText(baseline),
      caption: `${setupAtStart(setup)} against ${setupInText(baseline)}, by model`,
      asked: ASKED_OF_FACTORS,
      names: OF_FACTORS,
    }),
  };
}

/** How many of an effect's models have a difference with an interval. */
export const answered = ({ models }: FactorEffect): number =>
  models.filter(({ word }) => word !== null).length;

/** Every factor of a class on one axis: what models say together, or each by itself where they are too few. */
export function factorsFigure(view: FactorsView, display: Display): FigureDescription | undefined {
  const lines = view.factors.flatMap(({ key, label, effects }) =>
    effects.flatMap((effect): Line[] => {
      const name = `${label}: ${effect.level}`;
      const href = `/factors/${key}`;
      if (effect.pooled !== null)
        return together(effect.pooled, effect.pooled.models).map((line) => ({
          ...line,
          setup: { setupId: effect.levelId },
          name,
          href,
          detail: modelsText(effect.pooled?.models ?? 0),
        }));
      return effect.models.map((model) => ({ ...model, name, href, detail: model.model }));
    }),
  );
  if (lines.length === 0) return undefined;
  const { cruiseClassKey, world } = view.group;
  const settled = lines.filter(({ word }) => word === 'settled').length;
  return {
    ...factorsSource(
      {
        kind: 'factors',
        key: cruiseClassKey,
        page: '',
        classKey: cruiseClassKey,
        world,
        asOf: view.fit?.fittedAt,
      },
      display,
    ),
    title: `What one change did at ${view.classLabel}: ${settled} of ${lines.length} ${lines.length === 1 ? 'answer is' : 'answers are'} settled.`,
    counts: `${lines.length} ${lines.length === 1 ? 'answer' : 'answers'} · worked out from ${view.fit?.runCount ?? 0} runs`,
    ...forestOf(lines, display, {
      from: 'what each is held against',
      caption: `Single changes at ${view.classLabel}`,
      asked: ASKED_OF_FACTORS,
      names: OF_FACTORS,
      isNamedByDetail: true,
    }),
  };
}

/** What the faster of two classes cost, model by model. */
export function speedFigure(
  step: SpeedStepView,
  of: { world: WorldKey; asOf: Date },
  display: Display,
): FigureDescription {
  const models = step.models.flatMap(({ setup, model, modelSlug, cars, answer }): Line[] =>
    answer === null
      ? []
      : [
          {
            ...answer,
            setup,
            name: model,
            href: `/models/${modelSlug}`,
            detail: `${setup.title}, ${cars} cars`,
          },
        ],
  );
  const lines = [...models, ...together(step.pooled, step.pooled?.groups ?? 0)];
  const { setup, baseline } = speedsAsked(step);
  return {
    ...factorsSource(
      { kind: 'cruise-speed', key: `${step.slow.key}.${step.fast.key}`, page: CRUISE_SPEED, ...of },
      display,
    ),
    title:
      step.pooled === null
        ? `${capital(setup)} against ${baseline}. ${tooFewText(models.length)}`
        : `${answerOf(step.pooled, speedsAsked(step), display).sentence} ${capital(modelsText(step.pooled.groups))} together.`,
    counts: `${modelsText(models.length)} driven at both speeds`,
    ...forestOf(lines, display, {
      from: baseline,
      caption: `${capital(setup)} against ${baseline}, by model`,
      asked: 'every number about cruise speed here',
      names: OF_SPEEDS,
    }),
  };
}

function forestOf(
  lines: readonly Line[],
  display: Display,
  {
    from,
    caption,
    asked,
    names,
    isNamedByDetail = false,
  }: { from: string; caption: string; asked: string; names: IntervalNames; isNamedByDetail?: boolean },
): Pick<FigureDescription, 'desc' | 'reading' | 'drawing' | 'table'> {
  const sense = senseOf(display.consumption);
  const rows = forestRows(
    lines,
    ({ name, detail }) => (isNamedByDetail ? `${name} · ${detail}` : name),
    display,
  );
  return {
    desc: rows.map((row) => `${row.label}: ${row.text}, ${row.note}`).join('. '),
    reading: `${differenceReading(names, display)} All that were asked at once are, ${asked}.`,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'None of these has an interval to draw yet; the table says why.' }
        : {
            kind: 'forest',
            rows,
            axisLabel: `difference in ${sense.quantity} from ${from}, %`,
            ...markLabels(names),
          },
    table: {
      caption,
      columns: [
        { header: isNamedByDetail ? 'Change' : 'Model' },
        { header: 'Difference', unit: '%' },
        ...intervalColumns(names),
        { header: 'In short', align: 'start' },
        { header: 'Result', align: 'start' },
        { header: 'What was compared', align: 'start' },
      ],
      rows: lines.map((line) => lineCells(line, names, display)),
    },
  };
}

function lineCells(line: Line, names: IntervalNames, display: Display): TwinCell[] {
  const { name, href, percent, refusal, detail } = line;
  const place = differencePlace(line, display);
  return [
    href === undefined ? name : { text: name, href },
    percent === null ? '–' : signedText(percent, display, place),
    ...intervalCells(line, names, display, place),
    shortAnswer(line, display),
    refusal ?? resultText(line),
    detail,
  ];
}
