import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { bracketedDuration } from '@/lib/answers/estimateSentence';
import type { CompareView } from '@/lib/registry/comparisons/compare';
import { USUAL_TRIP_M, type UsualTrip } from '@/lib/registry/estimates/readTrips';
import { ESTIMATE_DEFAULTS } from '@/lib/run/estimate/estimateFields';
import type { Display } from '@/lib/units/display';
import { showEstimate, showQuantity, showShare } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { estimateHref } from '../estimate/estimateQuery';

/** What the compared setups mean on the road: how far, how long at chargers, how much to pay for. */
export function UsualTrips({
  view,
  trips,
  display,
}: {
  view: CompareView;
  trips: readonly UsualTrip[];
  display: Display;
}) {
  if (trips.length === 0) return null;
  const length = showQuantity(USUAL_TRIP_M, 'distance', display);
  const percent = (share: number) => showShare(share, display, { decimals: 0 });
  const { start, arrive, low, high } = ESTIMATE_DEFAULTS;
  const classKey = view.group.cruiseClassKey;
  const asked = { against: trips[1]?.slug, setup: trips[0]?.slug, classKey };
  const range = (of: UsualTrip) => of.rangeM && showEstimate(of.rangeM, 'distance', display);
  const bought = (of: UsualTrip) => of.boughtWh && showEstimate(of.boughtWh, 'kWh', display);
  return (
    <Section
      id="usual-trip"
      title={`If you drove ${length}`}
      note={`In another car of the model: one trip at a steady ${view.classLabel} and reference conditions, from ${percent(start)} to ${percent(arrive)}, charging from ${percent(low)} to ${percent(high)} on the way.`}
      actions={
        <Link className="link" href={estimateHref(asked)}>
          Work out another trip
        </Link>
      }
    >
      <DataTable
        caption={`Range, time and energy over ${length}; in brackets where 95 of 100 such trips would lie`}
        rows={trips}
        rowKey={({ slug }) => slug}
        columns={[
          {
            key: 'setup',
            header: 'Setup',
            rowHeader: true,
            cell: ({ slug, title }) => (
              <Link className="link" href={estimateHref({ setup: slug, classKey })}>
                {title}
              </Link>
            ),
          },
          {
            key: 'range',
            header: 'Range',
            unit: unitSymbol(display.distance),
            align: 'end',
            answer: true,
            cell: (of) => withEnds(range(of)),
          },
          {
            key: 'charging',
            header: 'Charging',
            unit: 'h:min',
            align: 'end',
            cell: ({ trip }) => (trip === null ? '–' : bracketedDuration(trip.chargingS)),
          },
          {
            key: 'bought',
            header: 'Energy you pay for',
            unit: 'kWh',
            align: 'end',
            cell: (of) => withEnds(bought(of)),
          },
        ]}
        footnote="An estimate under stated conditions, not a promise of range: keep a reserve. How much one car or day differs from the next moves all these trips alike, so the difference between them is surer than each number: ask for two setups side by side to see it."
      />
    </Section>
  );
}

const withEnds = (shown: { value: string; interval: string } | null) =>
  shown === null ? '–' : `${shown.value} (${shown.interval})`;
