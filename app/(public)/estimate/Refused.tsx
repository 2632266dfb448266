import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { NearestCondition } from '@/lib/physics/estimate/estimateReach';
import type { EstimateOutcome } from '@/lib/registry/estimates/readEstimate';
import type { EstimateNumber } from '@/lib/run/estimate/estimateFields';
import { unitFieldName } from '@/lib/run/numberField';
import { type Display, type Kind, unitFor } from '@/lib/units/display';
import { sayFound } from '@/lib/units/said';
import { showNumber } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { hrefWith, type SearchParams } from '../rankings/query';

const FIELD: Record<NearestCondition['condition'], { name: EstimateNumber; kind: Kind; words: string }> = {
  airTemperatureC: { name: 'air', kind: 'temperature', words: 'an air temperature of' },
  cruiseSpeedMps: { name: 'speed', kind: 'speed', words: 'a speed of' },
  windSpeedMps: { name: 'windSpeed', kind: 'wind', words: 'a wind of' },
  netClimbM: { name: 'climb', kind: 'height', words: 'a net climb of' },
};

/** Outside the method's reach no number is given; the nearest condition that has one is a click away. */
export function Refused({
  refused: { refusal, of },
  params,
  display,
}: {
  refused: Extract<EstimateOutcome, { kind: 'refused' }>;
  params: SearchParams;
  display: Display;
}) {
  const nearest = refusal.nearest.map((one) => ({ ...one, ...nearestWords(one, display) }));
  const all = Object.assign({}, ...nearest.map(({ changes }) => changes));
  const isSteep = refusal.nearest.some(({ condition }) => condition === 'netClimbM');
  const isOffClass = refusal.nearest.some(({ condition }) => condition === 'cruiseSpeedMps');
  return (
    <Notice kind="caution" title="No number: the method does not reach so far.">
      {refusal.reasons.map(({ code, message, said }) => (
        <p key={code}>{sayFound({ sentence: message, said }, display)}</p>
      ))}
      {isOffClass ? <p>The nearest speed that this setup was driven at is {of.label}.</p> : null}
      {isSteep ? (
        <p>On so steep a descent the car would brake for much of the way, which is not modelled.</p>
      ) : null}
      <p>
        The nearest that can be answered:{' '}
        <Link className="link" href={hrefWith('/estimate', params, all)}>
          {nearest.map(({ words }) => words).join(', and ')}
        </Link>
      </p>
    </Notice>
  );
}

/** In the reader's unit, rounded to the side on which it was asked to be: what is offered is within reach. */
export function nearestWords({ condition, asked, nearest }: NearestCondition, display: Display) {
  const { name, kind, words } = FIELD[condition];
  const unit = unitFor(kind, display);
  const exact = fromCanonical(nearest, unit);
  // three digits at the least; all that are left are shown, since rounding again could lead outside
  const perUnit = Math.abs(exact) >= 999 ? 1 : 10;
  const toward = asked > nearest ? Math.floor : Math.ceil;
  const steps = toward(exact * perUnit + (asked > nearest ? 1e-6 : -1e-6));
  const value = showNumber(steps / perUnit, steps % perUnit === 0 ? 0 : 1, display);
  return {
    words: `${words} ${value} ${unitSymbol(unit)}`,
    changes: { [name]: value, [unitFieldName(name)]: unit },
  };
}
