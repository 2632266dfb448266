import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunStanding, StandingRuns } from '@/lib/registry/review/runStanding';
import { formatNumber, formatQuantity } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { type RunOfFigure, runSource } from './runSource';

export function decimalsOfRuns(unit: UnitCode): number {
  return unit === 'Wh/km' || unit === 'Wh/mi' ? 1 : 2;
}

/** Where a run falls among the approved runs of its setup, and where it was expected from them. */
export function standingFigure(of: RunOfFigure, standing: RunStanding, unit: UnitCode): FigureDescription {
  const { ofSetup, prediction } = standing;
  const own = formatQuantity(standing.own.normalisedWhPerKm, unit, { decimals: decimalsOfRuns(unit) });
  const ends = prediction && ordered(prediction.lowWhPerKm, prediction.highWhPerKm, unit);
  return {
    ...among(of, standing, ofSetup, unit, 'standing'),
    title: `Run ${of.number} at ${own} among ${ofSetup.count} other approved ${ofSetup.count === 1 ? 'run' : 'runs'} of ${of.subject.setup.title}${prediction ? `, ${prediction.isInside ? 'inside' : 'outside'} what they let expect` : ''}.`,
    desc: `${ofSetup.count} other runs ${rangeWords(ofSetup, unit)}; this one at ${own}.`,
    drawing: {
      ...strip(of, standing, ofSetup, unit),
      ...(ends ? { prediction: { ...ends, label: 'expected from the others, 95 %' } } : {}),
      othersLabel: `other approved runs of the setup${sharedDots(ofSetup)}`,
    },
  };
}

/** The same among the runs of the model's other setups; for the review alone, so without files. */
export function modelStandingFigure(
  of: RunOfFigure,
  standing: RunStanding,
  unit: UnitCode,
): FigureDescription {
  const { ofModel } = standing;
  const words = `${ofModel.count} runs of other setups of the model, ${rangeWords(ofModel, unit)}.`;
  return {
    ...among({ ...of, isPublic: false }, standing, ofModel, unit, 'standing'),
    title: `Run ${of.number} among ${words}`,
    desc: words,
    drawing: {
      ...strip(of, standing, ofModel, unit),
      othersLabel: `approved runs of other setups of the model${sharedDots(ofModel)}`,
    },
  };
}

function among(of: RunOfFigure, standing: RunStanding, runs: StandingRuns, unit: UnitCode, kind: string) {
  const text = (whPerKm: number) => formatNumber(fromCanonical(whPerKm, unit), decimalsOfRuns(unit));
  return {
    ...runSource(kind, of, unit),
    table: {
      caption: `Run ${of.number}, then the others, the lowest first`,
      columns: [{ header: 'Run' }, { header: 'Consumption at reference conditions', unit: unitSymbol(unit) }],
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

function strip(of: RunOfFigure, standing: RunStanding, runs: StandingRuns, unit: UnitCode) {
  return {
    kind: 'histogram' as const,
    others: runs.shown.map((run, index) => ({
      value: fromCanonical(run.normalisedWhPerKm, unit),
      row: index + 1,
    })),
    own: { value: fromCanonical(standing.own.normalisedWhPerKm, unit), label: `run ${of.number}`, row: 0 },
    axisLabel: `consumption at reference conditions, ${unitSymbol(unit)}`,
  };
}

/** Of very many, each dot stands for its neighbours in rank too. */
function sharedDots({ count, shown }: StandingRuns): string {
  return shown.length < count ? `, each dot one in ${Math.round(count / shown.length)} by rank` : '';
}

function ordered(low: number, high: number, unit: UnitCode): { low: number; high: number } {
  const a = fromCanonical(low, unit);
  const b = fromCanonical(high, unit);
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

function rangeWords({ shown }: StandingRuns, unit: UnitCode): string {
  const values = shown.map((run) => fromCanonical(run.normalisedWhPerKm, unit));
  return `from ${formatNumber(Math.min(...values), 1)} to ${formatNumber(Math.max(...values), 1)} ${unitSymbol(unit)}`;
}
