import { countText } from '@/app/ui/countText';
import { HistogramStrip } from '@/app/ui/figures/HistogramStrip';
import { Notice } from '@/app/ui/Notice';
import type { RunStanding, StandingRun, StandingRuns } from '@/lib/registry/review/runStanding';
import type { Display } from '@/lib/units/display';
import { percentIn, senseOf } from '@/lib/units/sense';
import { showEstimate, showInterval, showNumber, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { ScreeningLine } from './ScreeningLine';

interface StandingProps {
  standing: RunStanding;
  display: Display;
  runNumber: number;
  /** For the review: the screening, and the model's other setups too. */
  withModel?: boolean;
}

/** Where a run falls among the approved runs of its setup, and of its model. */
export function Standing({ standing, display, runNumber, withModel = false }: StandingProps) {
  const { ofSetup, prediction } = standing;
  // all numbers of the part stand at the place of what is expected of one run
  const place =
    prediction === null
      ? {}
      : {
          decimals: showEstimate(
            { value: prediction.meanWhPerKm, low: prediction.lowWhPerKm, high: prediction.highWhPerKm },
            'consumption',
            display,
          ).decimals,
        };
  if (ofSetup.count === 0) {
    return (
      <>
        <p>No other approved run of this setup in this class yet: there is nothing to compare it with.</p>
        {withModel ? <OtherSetups standing={standing} display={display} runNumber={runNumber} /> : null}
      </>
    );
  }
  return (
    <>
      <p className="mb-3 max-w-[38rem]">
        {countText({ runs: ofSetup.count, cars: standing.cars, sessions: standing.sessions })} of this setup
        besides this one, with a geometric mean of{' '}
        {standing.meanWhPerKm === null
          ? '–'
          : showQuantity(standing.meanWhPerKm, 'consumption', display, place)}
        . {standing.fromMean === null ? null : fromMeanWords(standing.fromMean, display)}
      </p>
      {prediction && !prediction.isInside ? (
        <Notice kind="caution" title="This run lies outside what the others let expect.">
          Nineteen in twenty runs would fall within{' '}
          {showInterval(prediction.lowWhPerKm, prediction.highWhPerKm, 'consumption', display, place)}.
        </Notice>
      ) : null}
      <HistogramStrip
        title={`Run ${runNumber} among the other runs of its setup`}
        desc={stripWords(standing, display, place)}
        others={ofSetup.shown.map((run) => fromCanonical(run.normalisedWhPerKm, display.consumption))}
        own={{
          value: fromCanonical(standing.own.normalisedWhPerKm, display.consumption),
          label: `run ${runNumber}`,
        }}
        {...(prediction
          ? {
              prediction: {
                ...ordered(prediction.lowWhPerKm, prediction.highWhPerKm, display),
                label: 'expected from the others, 95 %',
              },
            }
          : {})}
        othersLabel={`other approved runs of the setup${sharedDots(ofSetup)}`}
        axisLabel={`${senseOf(display.consumption).quantity} at reference conditions, ${unitSymbol(display.consumption)}`}
      />
      {prediction ? (
        <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
          Expected without this run: {showQuantity(prediction.meanWhPerKm, 'consumption', display, place)}, 95
          % between{' '}
          {showInterval(prediction.lowWhPerKm, prediction.highWhPerKm, 'consumption', display, place)}.{' '}
          {leansOn(prediction)}
        </p>
      ) : null}
      {withModel ? <ScreeningLine screening={standing.screening} display={display} /> : null}
      {withModel ? <OtherSetups standing={standing} display={display} runNumber={runNumber} /> : null}
    </>
  );
}

function OtherSetups({ standing, display, runNumber }: Omit<StandingProps, 'withModel'>) {
  const { ofModel } = standing;
  if (ofModel.count === 0) {
    return <p className="mt-6 text-sm">No other setup of this model has an approved run in this class.</p>;
  }
  return (
    <div className="mt-6">
      <h3 className="mb-2">Among the model’s other setups</h3>
      <HistogramStrip
        title={`Run ${runNumber} among runs of the model's other setups`}
        desc={`${ofModel.count} runs of other setups of the model, ${rangeWords(ofModel.shown, display)}.`}
        others={ofModel.shown.map((run) => fromCanonical(run.normalisedWhPerKm, display.consumption))}
        own={{
          value: fromCanonical(standing.own.normalisedWhPerKm, display.consumption),
          label: `run ${runNumber}`,
        }}
        othersLabel={`approved runs of other setups of the model${sharedDots(ofModel)}`}
        axisLabel={`${senseOf(display.consumption).quantity} at reference conditions, ${unitSymbol(display.consumption)}`}
      />
    </div>
  );
}

/** A deviation without an interval of its own: to tenths of a per cent, said of what the unit measures. */
function fromMeanWords(fromMean: number, display: Display): string {
  const percent = percentIn(display.consumption, 100 * fromMean);
  const size = showNumber(Math.abs(percent), 1, display);
  return `In ${senseOf(display.consumption).quantity} this run is ${size} % ${percent < 0 ? 'below' : 'above'} it.`;
}

/** Of very many, each dot stands for its neighbours in rank too. */
function sharedDots({ count, shown }: StandingRuns): string {
  return shown.length < count ? `, each dot one in ${Math.round(count / shown.length)} by rank` : '';
}

function leansOn(prediction: NonNullable<RunStanding['prediction']>): string {
  if (prediction.knowsSession) return 'Other runs of the same car on the same day went into it.';
  if (prediction.knowsCar) return 'Other days of the same car on this loop went into it.';
  return 'No other run of this car on this loop went into it.';
}

function ordered(low: number, high: number, display: Display): { low: number; high: number } {
  const a = fromCanonical(low, display.consumption);
  const b = fromCanonical(high, display.consumption);
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

function rangeWords(
  runs: readonly StandingRun[],
  display: Display,
  place: { decimals?: number } = {},
): string {
  const values = runs.map((run) => run.normalisedWhPerKm);
  const ends = showInterval(Math.min(...values), Math.max(...values), 'consumption', display, place);
  return `from ${ends}`;
}

function stripWords(standing: RunStanding, display: Display, place: { decimals?: number }): string {
  const own = showQuantity(standing.own.normalisedWhPerKm, 'consumption', display, place);
  return `${standing.ofSetup.count} other runs ${rangeWords(standing.ofSetup.shown, display, place)}; this one at ${own}.`;
}
