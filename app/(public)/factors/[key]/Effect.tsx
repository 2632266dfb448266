import { compareHref } from '@/app/(public)/compare/compareQuery';
import { EvidenceTag } from '@/app/ui/answers/EvidenceTag';
import { DataTable } from '@/app/ui/DataTable';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { answerOf } from '@/lib/answers/answer';
import { TRIP_KM } from '@/lib/registry/comparisons/compare';
import type { FactorEffect, ModelAnswer, OnTrip, PooledAnswer } from '@/lib/registry/factors/effects';
import type { FactorView } from '@/lib/registry/factors/factors';
import type { Display } from '@/lib/units/display';
import { percentEndsIn } from '@/lib/units/sense';
import { showEstimate, showPercentEstimate, showQuantity } from '@/lib/units/show';
import { estimateHref } from '../../estimate/estimateQuery';
import { EffectAnswer } from '../EffectAnswer';
import { effectFigure } from '../effectFigure';
import { levelsAsked, modelsText } from '../words';

interface EffectProps {
  view: FactorView;
  effect: FactorEffect;
  display: Display;
}

/** One level against the other: the answer, the figure, what it means, and the models behind it. */
export function Effect({ view, effect, display }: EffectProps) {
  return (
    <Section
      id={`level-${effect.levelId}`}
      title={`${effect.level} against ${effect.baseline.toLowerCase()}`}
      wide
    >
      <EffectAnswer effect={effect} display={display} />
      <Figure figure={effectFigure(view, effect, display)} isTitleSaid />
      {effect.pooled === null ? null : <Together pooled={effect.pooled} display={display} />}
      <Models view={view} effect={effect} display={display} />
      {effect.of > effect.models.length ? (
        <p className="text-sm text-ink-soft">
          The {modelsText(effect.models.length)} with the narrowest intervals of {effect.of}; all of them are
          in the common number.
        </p>
      ) : null}
    </Section>
  );
}

/** What the common number means for a trip, and for a model that nobody drove. */
function Together({ pooled, display }: { pooled: PooledAnswer; display: Display }) {
  const { further } = pooled;
  const trip = showQuantity(TRIP_KM * 1000, 'distance', display);
  const mean = showQuantity(pooled.baselineWhPerKm, 'consumption', display);
  const unit = display.consumption;
  const one = further === null ? null : percentEndsIn(unit, further);
  return (
    <div className="mb-6 max-w-[46rem] space-y-2">
      <p>
        Over {trip}, for a car that otherwise uses {mean}, the mean of these models:{' '}
        {onTripText(pooled.onTripWh, display)}.
      </p>
      {one === null ? null : (
        <p>
          A further model, not driven here, would be expected anywhere from{' '}
          {showPercentEstimate({ percent: one[0], low: one[0], high: one[1] }, display).interval} %.
        </p>
      )}
    </div>
  );
}

function onTripText(onTrip: OnTrip, display: Display): string {
  const { value, interval, symbol } = tripEstimate(onTrip, display);
  return `${value} ${symbol} (${interval})`;
}

const tripEstimate = ({ difference, low, high }: OnTrip, display: Display) =>
  showEstimate({ value: difference, low, high }, 'kWh', display, { signed: true });

function Models({ view, effect, display }: EffectProps) {
  const { cruiseClassKey, world } = view.group;
  const trip = showQuantity(TRIP_KM * 1000, 'distance', display);
  const hrefOf = ({ baseline, setup }: ModelAnswer) =>
    compareHref({}, { class: cruiseClassKey, world: world === 'record' ? undefined : world }, [
      baseline.slug,
      setup.slug,
    ]);
  return (
    <DataTable
      caption="Model by model; each is the difference of two setups that differ in nothing else"
      rows={effect.models}
      rowKey={({ setup }) => setup.setupId}
      columns={[
        {
          key: 'model',
          header: 'Model',
          rowHeader: true,
          cell: (model) => (
            <Link className="link" href={`/models/${model.modelSlug}`}>
              {model.model}
            </Link>
          ),
        },
        {
          key: 'answer',
          header: 'Answer',
          wide: true,
          cell: (model) => {
            const { word, line } = answerOf(model, levelsAsked(effect), display);
            return (
              <>
                <EvidenceTag word={word} /> <span className="block">{line}</span>
              </>
            );
          },
        },
        {
          key: 'trip',
          header: `Over ${trip}`,
          unit: 'kWh',
          align: 'end',
          cell: ({ onTripWh }) => (onTripWh === null ? '–' : tripEstimate(onTripWh, display).value),
        },
        {
          key: 'settle',
          header: 'What would settle it',
          wide: true,
          cell: (model) => answerOf(model, levelsAsked(effect), display).next || 'Nothing more is needed.',
        },
        {
          key: 'behind',
          header: 'Behind it',
          cell: (model) => (
            <>
              <Link className="link flex min-h-6 items-center" href={hrefOf(model)}>
                Compare<span className="sr-only"> both setups of {model.model}</span>
              </Link>
              <Link
                className="link flex min-h-6 items-center"
                href={estimateHref({
                  setup: model.setup.slug,
                  against: model.baseline.slug,
                  classKey: cruiseClassKey,
                })}
              >
                What would mine do?<span className="sr-only"> A {model.model} in both</span>
              </Link>
              {(model.sideBySide?.total ?? 0) > 0 ? (
                <Link className="link flex min-h-6 items-center" href={`${hrefOf(model)}#pairs`}>
                  {model.sideBySide?.total} {model.sideBySide?.total === 1 ? 'session' : 'sessions'} of both
                </Link>
              ) : null}
            </>
          ),
        },
      ]}
    />
  );
}
