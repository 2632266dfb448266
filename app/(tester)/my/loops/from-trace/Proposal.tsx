import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import { Section } from '@/app/ui/Section';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity, showShare, showWithUncertainty } from '@/lib/units/show';

/** The loop as the recording sees it. */
export function Proposal({ proposal, display }: { proposal: LoopProposal; display: Display }) {
  const { means, outline, elevationProfile, legs } = proposal;
  const axis = ((Math.atan2(means.meanSin2, means.meanCos2) * 90) / Math.PI + 180) % 180;
  return (
    <Section
      id="proposal"
      title="What the recording shows"
      note={`The outline leaves out ${showQuantity(proposal.trimM, 'height', display, { decimals: 0 })} around start and finish.`}
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
            description: showWithUncertainty(
              proposal.lengthM,
              proposal.lengthUncertaintyM,
              'distance',
              display,
            ),
            note: 'standard uncertainty of one recording',
          },
          { term: 'Same road both ways', description: showShare(proposal.sharedRouteShare, display) },
          { term: 'Off the cruise speed', description: showShare(proposal.offCruiseShare, display) },
          {
            term: 'Axis of the road',
            description: `${showNumber(axis, 0, display)}° and ${showNumber(axis + 180, 0, display)}°`,
            note: `by the mean of doubled angles, of strength ${showNumber(Math.hypot(means.meanCos2, means.meanSin2), 2, display)} (1 is a straight road)`,
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
              cell: (leg) => showQuantity(leg.lengthM, 'distance', display, { decimals: 2 }),
            },
            {
              key: 'climb',
              header: 'Net climb',
              align: 'end',
              cell: (leg) => showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true }),
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
