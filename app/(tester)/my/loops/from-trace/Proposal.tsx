import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import { Section } from '@/app/ui/Section';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';

const percent = (share: number) => `${formatNumber(100 * share, 1)} %`;

/** The loop as the recording sees it. */
export function Proposal({ proposal }: { proposal: LoopProposal }) {
  const { means, outline, elevationProfile, legs } = proposal;
  const axis = ((Math.atan2(means.meanSin2, means.meanCos2) * 90) / Math.PI + 180) % 180;
  return (
    <Section
      id="proposal"
      title="What the recording shows"
      note={`The outline leaves out ${formatQuantity(proposal.trimM, 'm', { decimals: 0 })} around start and finish.`}
      wide
    >
      {outline.length > 1 ? (
        <RouteMap
          title="Outline of the loop"
          desc="As recorded, in its true shape, north up, without its ends."
          legs={[
            {
              key: 'route',
              label: 'as driven',
              points: outline.map(({ x, y }) => ({ eastM: x, northM: y })),
            },
          ]}
          places={[]}
        />
      ) : null}
      {elevationProfile.length > 1 ? (
        <ProfilePlot
          title="Height along the loop"
          desc="Smoothed over 150 m."
          panels={[
            {
              key: 'height',
              label: 'Height above sea level, m',
              filled: true,
              points: elevationProfile.map(({ distanceM, heightM }) => ({
                distance: distanceM / 1000,
                value: heightM,
              })),
            },
          ]}
          markers={[{ distance: proposal.turnaroundM / 1000, label: 'Turnaround' }]}
          distanceLabel="distance, km"
        />
      ) : null}
      <DefinitionList
        columns={2}
        items={[
          {
            term: 'Length',
            description: formatWithUncertainty(proposal.lengthM, proposal.lengthUncertaintyM, 'km'),
            note: 'standard uncertainty of one recording',
          },
          { term: 'Same road both ways', description: percent(proposal.sharedRouteShare) },
          { term: 'Off the cruise speed', description: percent(proposal.offCruiseShare) },
          {
            term: 'Axis of the road',
            description: `${formatNumber(axis, 0)}° and ${formatNumber(axis + 180, 0)}°`,
            note: `by the mean of doubled angles, of strength ${formatNumber(Math.hypot(means.meanCos2, means.meanSin2), 2)} (1 is a straight road)`,
          },
        ]}
      />
      <div className="mt-6">
        <DataTable
          caption="Legs"
          rows={legs}
          rowKey={(leg) => leg.direction}
          columns={[
            { key: 'leg', header: 'Leg', rowHeader: true, cell: (leg) => leg.direction },
            {
              key: 'length',
              header: 'Length',
              align: 'end',
              cell: (leg) => formatQuantity(leg.lengthM, 'km', { decimals: 2 }),
            },
            {
              key: 'climb',
              header: 'Net climb',
              align: 'end',
              cell: (leg) => formatQuantity(leg.netClimbM, 'm', { decimals: 0, signed: true }),
            },
          ]}
        />
      </div>
      {proposal.notes.length > 0 ? (
        <ul className="mt-3 list-disc pl-5 text-sm text-ink-soft">
          {proposal.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      ) : null}
    </Section>
  );
}
