import { TableWithId } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { Still } from '@/app/ui/Still';
import { durationText, savingSentence, tripSentence } from '@/lib/answers/estimateSentence';
import type { Ranged } from '@/lib/registry/estimates/estimatedClasses';
import type { Answered } from '@/lib/registry/estimates/readEstimate';
import type { SetupEstimate, TripShown } from '@/lib/registry/estimates/setupEstimate';
import { setupInText } from '@/lib/run/setupTitle';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { showEstimate, showNumber, showQuantity, showShare, showStated } from '@/lib/units/show';
import { CURVE_WORDS } from './words';

/** Stops, times and cost of the trip asked for. */
export function TripPlan({
  answered,
  modelSlug,
  display,
}: {
  answered: Answered;
  modelSlug: string;
  display: Display;
}) {
  const { first, second, asked, differences, curveBasis } = answered;
  const length = showStated(asked.trip, 'distance', display);
  const { trip } = first;
  if (trip === null) {
    return (
      <Section id="trip" title={`On a trip of ${length}`}>
        <p className="max-w-[46rem]">
          {first.rangeM === null
            ? 'Nobody has stated what this model’s battery holds, so neither range nor stops can be worked out. Enter the usable capacity of your own, and what it may be off by.'
            : 'This trip would take more than a hundred stops. Charge further at each, or ask for a shorter trip.'}
        </p>
      </Section>
    );
  }
  const names = { setup: second?.title ?? '', against: first.title };
  const total = { lengthM: asked.trip, totalS: trip.totalS, chargingS: trip.chargingS.value };
  return (
    <Section
      id="trip"
      title={`On a trip of ${length}`}
      note="Assumes that there is a charger wherever one is needed."
    >
      <p className="mb-4 max-w-[46rem]">
        {tripSentence({ ...total, stops: trip.stops.length }, display)}
        {second !== undefined && differences?.totalS
          ? ` ${savingSentence('totalS', differences.totalS, names, display)}`
          : null}
        {second !== undefined && differences?.cost
          ? ` ${savingSentence('cost', differences.cost, names, display)}`
          : null}
      </p>
      <Still className="mb-6 grid gap-x-10 gap-y-6 md:grid-cols-2">
        {[first, ...(second === undefined ? [] : [second])].map((one) => (
          <TripNumbers key={one.slug} of={one} isNamed={second !== undefined} display={display} />
        ))}
      </Still>
      {trip.stops.length === 0 ? null : (
        <Still>
          <Stops of={first} trip={trip} stopS={asked.stop} display={display} />
        </Still>
      )}
      {curveBasis === undefined || trip.stops.length === 0 ? null : (
        <p className="mt-3 max-w-[46rem] text-sm text-ink-soft">
          {CURVE_WORDS[curveBasis]}{' '}
          <Link className="link" href={`/models/${modelSlug}#charging`}>
            How this model charges
          </Link>
        </p>
      )}
    </Section>
  );
}

function duration(ranged: Ranged) {
  const { value, interval } = durationText(ranged);
  return { description: `${value} h`, ...(interval === undefined ? {} : { note: interval }) };
}

function TripNumbers({ of, isNamed, display }: { of: SetupEstimate; isNamed: boolean; display: Display }) {
  const { trip, rangeM, whPerKm } = of;
  if (trip === null) return null;
  const consumption = showEstimate(whPerKm, 'consumption', display);
  const range = rangeM && showEstimate(rangeM, 'distance', display);
  const cost = trip.cost && costText(trip.cost, display);
  return (
    <div>
      {isNamed ? <h3>{of.title}</h3> : null}
      <DefinitionList
        items={[
          ...(range
            ? [{ term: 'Range', description: `${range.value} ${range.symbol}`, note: range.interval }]
            : []),
          { term: 'Total time', ...duration(trip.totalS) },
          { term: 'Charging', ...duration(trip.chargingS) },
          { term: 'Stops', description: String(trip.stops.length), note: stopsText(trip, display) },
          {
            term: 'Consumption',
            description: `${consumption.value} ${consumption.symbol}`,
            note: consumption.interval,
          },
          ...(cost
            ? [
                {
                  term: 'Cost',
                  description: cost.value,
                  note: `${cost.interval}, losses while charging included`,
                },
              ]
            : [
                {
                  term: 'Charged on the way',
                  description: showQuantity(trip.chargedWh, 'kWh', display),
                  note: 'Enter what you pay to see the cost.',
                },
              ]),
          { term: 'Charge at arrival', description: showShare(trip.arrivalCharge, display, { decimals: 0 }) },
        ]}
      />
    </div>
  );
}

/** In the reader's own currency, which has no unit here. */
function costText({ value, low, high }: Ranged, display: Display): { value: string; interval: string } {
  const place = Math.min(2, placeForInterval(low, high));
  const text = (cost: number) => showNumber(cost, place, display);
  return { value: text(value), interval: `${text(low)} to ${text(high)}` };
}

/** "1 in 94 % of cases, 2 in 6 %": nothing where it is always as many. */
function stopsText({ stopShares }: TripShown, display: Display): string | undefined {
  if (stopShares.length < 2) return undefined;
  return stopShares
    .filter(({ share }) => share >= 0.005)
    .map(({ stops, share }) => `${stops} in ${showShare(share, display, { decimals: 0 })} of cases`)
    .join(', ');
}

function Stops({
  of,
  trip,
  stopS,
  display,
}: {
  of: SetupEstimate;
  trip: TripShown;
  stopS: number;
  display: Display;
}) {
  const percent = (share: number) => showShare(share, display, { decimals: 0, bare: true });
  return (
    <TableWithId
      captionId="stops-planned"
      caption={`The plan for ${setupInText(of.title)}: where to charge, from what to what, and how long`}
      rows={trip.stops.map((stop, index) => ({ ...stop, number: index + 1 }))}
      rowKey={({ number }) => String(number)}
      columns={[
        { key: 'stop', header: 'Stop', rowHeader: true, cell: ({ number }) => number },
        {
          key: 'after',
          header: 'After',
          align: 'end',
          cell: ({ afterM }) => showQuantity(afterM, 'distance', display),
        },
        {
          key: 'from',
          header: 'From',
          unit: '%',
          align: 'end',
          cell: ({ fromCharge }) => percent(fromCharge),
        },
        { key: 'to', header: 'To', unit: '%', align: 'end', cell: ({ toCharge }) => percent(toCharge) },
        {
          key: 'time',
          header: 'Charging',
          unit: 'h:min',
          align: 'end',
          answer: true,
          cell: ({ chargingS }) => formatDuration(chargingS),
        },
      ]}
      footnote={`Each stop costs ${showStated(stopS, 'min', display)} more, as asked.`}
    />
  );
}
