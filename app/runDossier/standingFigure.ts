import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunStanding } from '@/lib/registry/review/runStanding';
import type { RankedRuns } from '@/lib/stats/modelStanding';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { placeOf, showEstimate, showInterval, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { type RunOfFigure, runSource } from './runSource';

/** All numbers of the part stand at one place: that of the run itself, or of what is expected of it if that is coarser. */
export function placeOfStanding({ own, prediction }: RunStanding, display: Display): { decimals: number } {
  const decimals = placeOf(own.normalisedWhPerKm, own.uWhPerKm, 'consumption', display);
  if (prediction === null) return { decimals };
  const { meanWhPerKm: value, lowWhPerKm: low, highWhPerKm: high } = prediction;
  return {
    decimals: Math.min(decimals, showEstimate({ value, low, high }, 'consumption', display).decimals),
  };
}

/** Where a run falls among the approved runs of its setup, and where it was expected from them. */
export function standingFigure(of: RunOfFigure, standing: RunStanding, display: Display): FigureDescription {
  const { ofSetup, prediction } = standing;
  const own = showQuantity(
    standing.own.normalisedWhPerKm,
    'consumption',
    display,
    placeOfStanding(standing, display),
  );
  const ends = prediction && ordered(prediction.lowWhPerKm, prediction.highWhPerKm, display);
  return {
    ...among(of, standing, ofSetup, display, 'standing'),
    title: `Run ${of.number} at ${own} among ${ofSetup.count} other approved ${ofSetup.count === 1 ? 'run' : 'runs'} of ${of.subject.setup.title}${prediction ? `, ${prediction.isInside ? 'inside' : 'outside'} what they would lead one to expect` : ''}.`,
    desc: `${ofSetup.count} other ${ofSetup.count === 1 ? 'run' : 'runs'} ${rangeWords(ofSetup, display, placeOfStanding(standing, display))}; this one at ${own}.`,
    drawing: {
      ...strip(of, standing, ofSetup, display),
      ...(ends ? { prediction: { ...ends, label: 'expected from the others, 95 %' } } : {}),
      othersLabel: `other approved runs of the setup${sharedDots(ofSetup)}`,
    },
  };
}

/** The same among the runs of the model's other setups; for the review alone, so without files. */
export function modelStandingFigure(
  of: RunOfFigure,
  standing: RunStanding,
  display: Display,
): FigureDescription {
  const { ofModel } = standing;
  const words = `${countText({ runs: ofModel.count })} of other setups of the model, ${rangeWords(ofModel, display)}.`;
  return {
    ...among({ ...of, isPublic: false }, standing, ofModel, display, 'standing'),
    title: `Run ${of.number} among ${words}`,
    desc: words,
    drawing: {
      ...strip(of, standing, ofModel, display),
      othersLabel: `approved runs of other setups of the model${sharedDots(ofModel)}`,
    },
  };
}

function among(of: RunOfFigure, standing: RunStanding, runs: RankedRuns, display: Display, kind: string) {
  const place = placeOfStanding(standing, display);
  const text = (whPerKm: number) => showQuantity(whPerKm, 'consumption', display, { ...place, bare: true });
  return {
    ...runSource(kind, of, display),
    table: {
      caption: `Run ${of.number}, then the others, ${senseOf(display.consumption).bestFirst}`,
      columns: [
        { header: 'Run' },
        { header: 'At reference conditions', unit: unitSymbol(display.consumption) },
      ],
      rows: [
        [`run ${of.number}, this one`, text(standing.own.normalisedWhPerKm)],
        ...runs.shown.map((run) => [
          { text: `run ${run.number}`, href: `/runs/${run.number}` },
          text(run.normalisedWhPerKm),
        ]),
      ],
    },
  };
}

function strip(of: RunOfFigure, standing: RunStanding, runs: RankedRuns, display: Display) {
  return {
    kind: 'histogram' as const,
    others: runs.shown.map((run, index) => ({
      value: fromCanonical(run.normalisedWhPerKm, display.consumption),
      row: index + 1,
    })),
    own: {
      value: fromCanonical(standing.own.normalisedWhPerKm, display.consumption),
      label: `run ${of.number}`,
      row: 0,
    },
    axisLabel: `${senseOf(display.consumption).quantity} at reference conditions, ${unitSymbol(display.consumption)}`,
  };
}

/** Of very many, each dot stands for its neighbours in rank too. */
function sharedDots({ count, shown }: RankedRuns): string {
  return shown.length < count ? `, each dot one in ${Math.round(count / shown.length)} by rank` : '';
}

function ordered(low: number, high: number, display: Display): { low: number; high: number } {
  const a = fromCanonical(low, display.consumption);
  const b = fromCanonical(high, display.consumption);
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

function rangeWords({ shown }: RankedRuns, display: Display, place: { decimals?: number } = {}): string {
  const values = shown.map((run) => run.normalisedWhPerKm);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (values.length === 1) return `at ${showQuantity(low, 'consumption', display, place)}`;
  return `from ${showInterval(low, high, 'consumption', display, place)}`;
}
