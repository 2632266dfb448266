import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';
import { heightFigure, outlineFigure } from './proposalFigures';

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
      {outline.length > 1 ? <Figure figure={outlineFigure(proposal)} /> : null}
      {elevationProfile.length > 1 ? <Figure figure={heightFigure(proposal)} /> : null}
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
