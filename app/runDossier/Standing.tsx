import { countText } from '@/app/ui/countText';
import { Figure } from '@/app/ui/figures/Figure';
import { Notice } from '@/app/ui/Notice';
import type { RunStanding } from '@/lib/registry/review/runStanding';
import { formatInterval, formatQuantity } from '@/lib/units/format';
import type { UnitCode } from '@/lib/units/unit';
import { percent } from './numbers';
import type { RunOfFigure } from './runSource';
import { ScreeningLine } from './ScreeningLine';
import { decimalsOfRuns, modelStandingFigure, standingFigure } from './standingFigure';

interface StandingProps {
  standing: RunStanding;
  unit: UnitCode;
  view: RunOfFigure;
  /** For the review: the screening, and the model's other setups too. */
  withModel?: boolean;
}

/** Where a run falls among the approved runs of its setup, and of its model. */
export function Standing({ standing, unit, view, withModel = false }: StandingProps) {
  const { ofSetup, prediction } = standing;
  const decimals = decimalsOfRuns(unit);
  if (ofSetup.count === 0) {
    return (
      <>
        <p>No other approved run of this setup in this class yet: there is nothing to compare it with.</p>
        {withModel ? <OtherSetups standing={standing} unit={unit} view={view} /> : null}
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
      <Figure figure={standingFigure(view, standing, unit)} />
      {prediction ? (
        <p className="mt-3 max-w-[38rem] text-sm text-ink-soft">
          Expected without this run: {formatQuantity(prediction.meanWhPerKm, unit, { decimals })}, 95 %
          between {formatInterval(prediction.lowWhPerKm, prediction.highWhPerKm, unit, { decimals })}.{' '}
          {leansOn(prediction)}
        </p>
      ) : null}
      {withModel ? <ScreeningLine screening={standing.screening} /> : null}
      {withModel ? <OtherSetups standing={standing} unit={unit} view={view} /> : null}
    </>
  );
}

function OtherSetups({ standing, unit, view }: Omit<StandingProps, 'withModel'>) {
  const { ofModel } = standing;
  if (ofModel.count === 0) {
    return <p className="mt-6 text-sm">No other setup of this model has an approved run in this class.</p>;
  }
  return (
    <div className="mt-6">
      <h3 className="mb-2">Among the model’s other setups</h3>
      <Figure figure={modelStandingFigure(view, standing, unit)} />
    </div>
  );
}

function leansOn(prediction: NonNullable<RunStanding['prediction']>): string {
  if (prediction.knowsSession) return 'Other runs of the same car on the same day went into it.';
  if (prediction.knowsCar) return 'Other days of the same car on this loop went into it.';
  return 'No other run of this car on this loop went into it.';
}
