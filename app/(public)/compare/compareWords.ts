import { publicAddress } from '@/app/runDossier/publicAddress';
import { answerOf, bySureness } from '@/lib/answers/answer';
import { type CitedSnapshot, comparisonCitation } from '@/lib/answers/citation';
import { publishText } from '@/lib/answers/publishText';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { dateText, dayWords } from '@/lib/run/localDate';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import { faultWords } from '@/lib/stats/holds/faultWords';
import type { Display } from '@/lib/units/display';
import { compareSource } from './compareSource';
import { differenceNumbers } from './differenceNumbers';

/** What is held against what: "“Low ride height” against the car as delivered". */
export function comparedWords(view: CompareView, baseline: ComparedSetup): string {
  const [only, second] = view.differences;
  const asked = only && !second ? setupAtStart(only.setup.name) : `${view.differences.length} setups`;
  return `${asked} against ${setupInText(baseline.name)}`;
}

export function modelsCompared(view: CompareView, baseline: ComparedSetup): string[] {
  return [...new Set([baseline.model, ...view.others.map(({ model }) => model)])];
}

/** Undefined where the address alone is too long for it. */
export function compareVideoText(view: CompareView, baseline: ComparedSetup, display: Display) {
  const { source, isDemo } = sourceOf(view, baseline, display);
  const models = modelsCompared(view, baseline);
  const answers = [...view.differences].sort(bySureness).map((difference) => ({
    setup: difference.setup.name,
    answer: answerOf(
      differenceNumbers(difference),
      { setup: difference.setup.name, baseline: baseline.name },
      display,
    ),
  }));
  const runs = [baseline, ...view.others].reduce((sum, setup) => sum + setup.runs, 0);
  const cautions = [
    faultWords(view.classLabel, view.fit?.faults ?? null),
    view.fit?.converged
      ? undefined
      : 'The intervals are provisional: the calculation stopped before it was done.',
  ].filter((words) => words !== undefined);
  return publishText({
    question: `${comparedWords(view, baseline)}: ${models.length === 1 ? models[0] : `${models.length} models`} at ${view.classLabel}`,
    answers,
    counts: [
      `${runs} runs of these setups, worked out with all ${view.fit?.runCount ?? 0} runs at ${view.classLabel} as of ${dayWords(source.asOf)}.`,
      ...cautions,
    ].join(' '),
    further: answers.length === 1 ? answers.map(({ answer }) => answer.next).filter(Boolean) : [],
    link: publicAddress(source.path),
    isDemo,
  });
}

export function citationOfComparison(
  view: CompareView,
  baseline: ComparedSetup,
  display: Display,
  snapshot: CitedSnapshot | undefined,
): string {
  const { source, isDemo } = sourceOf(view, baseline, display);
  return comparisonCitation({
    setups: view.others.map(({ name }) => name),
    baseline: baseline.name,
    models: modelsCompared(view, baseline),
    classLabel: view.classLabel,
    fitRuns: view.fit?.runCount ?? 0,
    methodVersion: view.fit?.methodVersion ?? '–',
    asOf: dateText(view.fit?.fittedAt ?? new Date(0)),
    address: publicAddress(source.path),
    isDemo,
    snapshot,
  });
}

function sourceOf(view: CompareView, baseline: ComparedSetup, display: Display) {
  return compareSource('differences', view, [baseline, ...view.others], display);
}
