import { countText } from '@/app/ui/countText';
import { HistogramStrip } from '@/app/ui/figures/HistogramStrip';
import { Notice } from '@/app/ui/Notice';
import type { RunStanding } from '@/lib/registry/review/runStanding';
import type { RankedRuns } from '@/lib/stats/modelStanding';
import { formatInterval, formatNumber, formatQuantity } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { percent } from './numbers';
import { ScreeningLine } from './ScreeningLine';

interface StandingProps {
  standing: RunStanding;
  unit: UnitCode;
  runNumber: number;
  /** For the review: the screening, and the model's other setups too. */
  withModel?: boolean;
}

/** Where a run falls among the approved runs of its setup, and of its model. */
export function Standing({ standing, unit, runNumber, withModel = false }: StandingProps) {
  const { ofSetup, prediction } = standing;
  const decimals = unit === 'Wh/km' || unit === 'Wh/mi' ? 1 : 2;
  if (ofSetup.count === 0) {
    return (
      <>
        <p>No other approved run of this setup in this class yet: there is nothing to compare it with.</p>
        {withModel ? <OtherSetups standing={standing} unit={unit} runNumber={runNumber} /> : null}
      </>
    );
  }
  return (
    <>
      <p className="mb-3 max-w-[38rem]">
        {countText({ runs: ofSetup.count, cars: standing.cars, sessions: standing.sessions })} of this setup
        besides this one, with a geometric mean of{' '}
        {standing.meanWhPerKm === null ? '–' : formatQuantity(standing.meanWhPerKm, unit, { decimals })}.{' '}
        {standing.fromMean === null
          ? null
          : `In consumption this run is ${percent(Math.abs(standing.fromMean), 1)} ${standing.fromMean < 0 ? 'below' : 'above'} it.`}
      </p>
      {prediction && !prediction.isInside ? (
        <Notice kind="caution" title="This run lies outside what the others let expect.">
          Nineteen in twenty runs would fall within{' '}
          {formatInterval(prediction.lowWhPerKm, prediction.highWhPerKm, unit, { decimals })}.
        </Notice>
      ) : null}
      <HistogramStrip
        title={`Run ${runNumber} among the other runs of its setup`}
        desc={stripWords(standing, unit, decimals)}
        others={ofSetup.shown.map((run) => fromCanonical(run.normalisedWhPerKm, unit))}
        own={{ value: fromCanonical(standing.own.normalisedWhPerKm, unit), label: `run ${runNumber}` }}
        {...(prediction
          ? {
              prediction: {
                ...ordered(prediction.lowWhPerKm, prediction.highWhPerKm, unit),
                label: 'expected from the others, 95 %',
              },
            }
          : {})}
        othersLabel={`other approved runs of the setup${sharedDots(ofSetup)}`}
        axisLabel={`consumption at reference conditions, ${unitSymbol(unit)}`}
      />
      {prediction ? (
        <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
          Expected without this run: {formatQuantity(prediction.meanWhPerKm, unit, { decimals })}, 95 %
          between {formatInterval(prediction.lowWhPerKm, prediction.highWhPerKm, unit, { decimals })}.{' '}
          {leansOn(prediction)}
        </p>
      ) : null}
      {withModel ? <ScreeningLine screening={standing.screening} /> : null}
      {withModel ? <OtherSetups standing={standing} unit={unit} runNumber={runNumber} /> : null}
    </>
  );
}

/** Where there is no fit yet, or one of an earlier release or of another version of the method. */
export function StandingDue() {
  return (
    <p className="max-w-[38rem]">
      Not computed yet: it will be with the next fit of the class, which is under way or due within a day.
    </p>
  );
}

function OtherSetups({ standing, unit, runNumber }: Omit<StandingProps, 'withModel'>) {
  const { ofModel } = standing;
  if (ofModel.count === 0) {
    return <p className="mt-6 text-sm">No other setup of this model has an approved run in this class.</p>;
  }
  return (
    <div className="mt-6">
      <h3 className="mb-2">Among the model’s other setups</h3>
      <HistogramStrip
        title={`Run ${runNumber} among runs of the model's other setups`}
        desc={`${ofModel.count} runs of other setups of the model, ${rangeWords(ofModel.shown, unit)}.`}
        others={ofModel.shown.map((run) => fromCanonical(run.normalisedWhPerKm, unit))}
        own={{ value: fromCanonical(standing.own.normalisedWhPerKm, unit), label: `run ${runNumber}` }}
        othersLabel={`approved runs of other setups of the model${sharedDots(ofModel)}`}
        axisLabel={`consumption at reference conditions, ${unitSymbol(unit)}`}
      />
    </div>
  );
}

/** Of very many, each dot stands for its neighbours in rank too. */
function sharedDots({ count, shown }: RankedRuns): string {
  return shown.length < count ? `, each dot one in ${Math.round(count / shown.length)} by rank` : '';
}

function leansOn(prediction: NonNullable<RunStanding['prediction']>): string {
  if (prediction.knowsSession) return 'Other runs of the same car on the same day went into it.';
  if (prediction.knowsCar) return 'Other days of the same car on this loop went into it.';
  return 'No other run of this car on this loop went into it.';
}

function ordered(low: number, high: number, unit: UnitCode): { low: number; high: number } {
  const a = fromCanonical(low, unit);
  const b = fromCanonical(high, unit);
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

function rangeWords(runs: RankedRuns['shown'], unit: UnitCode): string {
  const values = runs.map((run) => fromCanonical(run.normalisedWhPerKm, unit));
  return `from ${formatNumber(Math.min(...values), 1)} to ${formatNumber(Math.max(...values), 1)} ${unitSymbol(unit)}`;
}

function stripWords(standing: RunStanding, unit: UnitCode, decimals: number): string {
  const own = formatQuantity(standing.own.normalisedWhPerKm, unit, { decimals });
  return `${standing.ofSetup.count} other runs ${rangeWords(standing.ofSetup.shown, unit)}; this one at ${own}.`;
}
