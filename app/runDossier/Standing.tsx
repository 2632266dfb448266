import { countText } from '@/app/ui/countText';
import { Figure } from '@/app/ui/figures/Figure';
import { Notice } from '@/app/ui/Notice';
import type { RunStanding } from '@/lib/registry/review/runStanding';
import type { Display } from '@/lib/units/display';
import { percentIn, senseOf } from '@/lib/units/sense';
import { showInterval, showNumber, showQuantity } from '@/lib/units/show';
import type { RunOfFigure } from './runSource';
import { ScreeningLine } from './ScreeningLine';
import { modelStandingFigure, placeOfStanding, standingFigure } from './standingFigure';

interface StandingProps {
  standing: RunStanding;
  display: Display;
  view: RunOfFigure;
  /** For the review: the screening, and the model's other setups too. */
  withModel?: boolean;
}

/** Where a run falls among the approved runs of its setup, and of its model. */
export function Standing({ standing, display, view, withModel = false }: StandingProps) {
  const { ofSetup, prediction } = standing;
  const place = placeOfStanding(standing, display);
  if (ofSetup.count === 0) {
    return (
      <>
        <p>No other approved run of this setup in this class yet: there is nothing to compare it with.</p>
        {withModel ? <OtherSetups standing={standing} display={display} view={view} /> : null}
      </>
    );
  }
  return (
    <>
      <p className="mb-3 max-w-[38rem]">
        {countText({ runs: ofSetup.count, cars: standing.cars, sessions: standing.sessions })} of this setup
        besides this one, with a mean of{' '}
        {standing.meanWhPerKm === null
          ? '–'
          : showQuantity(standing.meanWhPerKm, 'consumption', display, place)}
        . {standing.fromMean === null ? null : fromMeanWords(standing.fromMean, display)}
      </p>
      {prediction && !prediction.isInside ? (
        <Notice kind="caution" title="This run lies outside what the others would lead one to expect.">
          Nineteen in twenty runs would fall within{' '}
          {showInterval(prediction.lowWhPerKm, prediction.highWhPerKm, 'consumption', display, place)}.
        </Notice>
      ) : null}
      <Figure figure={standingFigure(view, standing, display)} />
      {prediction ? (
        <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
          Expected without this run: {showQuantity(prediction.meanWhPerKm, 'consumption', display, place)}, 95
          % interval{' '}
          {showInterval(prediction.lowWhPerKm, prediction.highWhPerKm, 'consumption', display, place)}.{' '}
          {leansOn(prediction)}
        </p>
      ) : null}
      {withModel ? <ScreeningLine screening={standing.screening} display={display} /> : null}
      {withModel ? <OtherSetups standing={standing} display={display} view={view} /> : null}
    </>
  );
}

/** Where there is no fit yet, or one of an earlier release or of another version of the method. */
export function StandingDue() {
  return (
    <p className="max-w-[38rem]">
      This is worked out with the next calculation of the class, which is under way or due within a day.
    </p>
  );
}

function OtherSetups({ standing, display, view }: Omit<StandingProps, 'withModel'>) {
  const { ofModel } = standing;
  if (ofModel.count === 0) {
    return <p className="mt-6 text-sm">No other setup of this model has an approved run in this class.</p>;
  }
  return (
    <div className="mt-6">
      <h3 className="mb-2">Among the model’s other setups</h3>
      <Figure figure={modelStandingFigure(view, standing, display)} />
    </div>
  );
}

/** A deviation without an interval of its own: to tenths of a per cent, said of what the unit measures. */
function fromMeanWords(fromMean: number, display: Display): string {
  const percent = percentIn(display.consumption, 100 * fromMean);
  const size = showNumber(Math.abs(percent), 1, display);
  return `In ${senseOf(display.consumption).quantity} this run is ${size} % ${percent < 0 ? 'below' : 'above'} it.`;
}

function leansOn(prediction: NonNullable<RunStanding['prediction']>): string {
  if (prediction.knowsSession) return 'Other runs of the same car on the same day went into it.';
  if (prediction.knowsCar) return 'Other days of the same car on this loop went into it.';
  return 'No other run of this car on this loop went into it.';
}
