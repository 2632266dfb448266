import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity, showShare, showWithUncertainty, withReadersMark } from '@/lib/units/show';
import { heightFigure, outlineFigure } from './proposalFigures';

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
      {outline.length > 1 ? <Figure figure={outlineFigure(proposal, display)} /> : null}
      {elevationProfile.length > 1 ? <Figure figure={heightFigure(proposal, display)} /> : null}
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
            <li key={note}>{withReadersMark(note, display)}</li>
          ))}
        </ul>
      ) : null}
    </Section>
  );
}
