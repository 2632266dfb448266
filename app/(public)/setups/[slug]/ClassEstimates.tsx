import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { placeText } from '@/lib/answers/placeText';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import { RECORD, type WorldKey } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedNumber, fittedPlace, intervalText } from '../../consumptionText';
import { caveatsOf } from '../../estimateCaveats';
import { IntervalWarning } from '../../IntervalWarning';
import { NotConverged } from '../../NotConverged';
import { missingText } from '../../rankings/rankingRows';

/** The setup's fitted consumption in every class it was driven in. */
export function ClassEstimates({ view, display }: { view: SetupView; display: Display }) {
  const { baseline, isBaseline } = view;
  return (
    <Section
      id="estimates"
      title="Consumption by cruise speed"
      note="Estimates at reference conditions. Each cruise speed is worked out from its own runs alone."
      wide
    >
      {view.estimates.map(({ classKey, classLabel, converged }) =>
        converged ? null : <NotConverged key={classKey} at={classLabel} />,
      )}
      {view.estimates.map(({ classKey, classLabel, faults }) => (
        <IntervalWarning
          key={classKey}
          classKey={classKey}
          classLabel={classLabel}
          world={view.world}
          faults={faults}
        />
      ))}
      <DataTable
        caption={`Consumption of ${view.title} by cruise speed`}
        captionHidden
        rows={view.estimates}
        rowKey={(estimate) => estimate.classKey}
        empty="No run counts here yet."
        columns={[
          { key: 'class', header: 'Class', rowHeader: true, cell: (estimate) => estimate.classLabel },
          {
            key: 'estimate',
            header: 'Estimate',
            unit: unitSymbol(display.consumption),
            align: 'end',
            cell: (estimate) => fittedNumber(estimate, display),
          },
          {
            key: 'interval',
            header: '95 % interval',
            align: 'end',
            cell: (estimate) => intervalText(estimate, display),
          },
          {
            key: 'raw',
            header: 'Mean as measured',
            unit: unitSymbol(display.consumption),
            align: 'end',
            cell: (estimate) =>
              consumptionNumber(estimate.rawMeanWhPerKm, display, fittedPlace(estimate, display)),
          },
          {
            key: 'counts',
            header: 'From',
            wide: true,
            cell: ({ runs, cars, testers, loops, days }) => countText({ runs, cars, testers, loops, days }),
          },
          { key: 'rank', header: 'Place', cell: placeWords },
          ...(baseline === undefined || isBaseline
            ? []
            : [
                {
                  key: 'compare',
                  header: 'Against the baseline',
                  cell: (estimate: ClassEstimate) => (
                    <Link
                      className="link"
                      href={compareHref(estimate.classKey, view.world, [baseline.slug, view.slug])}
                    >
                      Compare at {estimate.classLabel}
                    </Link>
                  ),
                },
              ]),
        ]}
      />
    </Section>
  );
}

function placeWords(estimate: ClassEstimate): string {
  if (!estimate.isRanked && estimate.missing.length > 0) return `not ranked yet: ${missingText(estimate)}`;
  const place = placeText(estimate, estimate.rankedOf);
  return place === undefined ? 'not ranked' : [place, ...caveatsOf(estimate.label)].join('; ');
}

export function compareHref(classKey: string, world: WorldKey, slugs: readonly string[]): string {
  const query = new URLSearchParams({ class: classKey, ...(world === RECORD ? {} : { world }) });
  for (const slug of slugs) query.append('setup', slug);
  return `/compare?${query.toString()}`;
}
