import { DefinitionList } from '@/app/ui/DefinitionList';
import { Disclosure } from '@/app/ui/Disclosure';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Section } from '@/app/ui/Section';
import { registry } from '@/app/visitor/registry';
import { consensusOfLoop } from '@/lib/registry/loops/loopConsensus';
import type { Display } from '@/lib/units/display';
import { showFactor, showShare, showWithUncertainty } from '@/lib/units/show';

/** What the recordings of its runs say of the loop, where there are any. */
export async function Consensus({ slug, display }: { slug: string; display: Display }) {
  const found = await consensusOfLoop(registry(), slug);
  if (found === undefined) return null;
  const { consensus, registered } = found;
  const { offCruise } = consensus;
  return (
    <Section
      id="recordings"
      title="By recordings of its runs"
      note={`For comparison: results use the registered figures until the loop’s owner takes these over. ${PLUS_MINUS}`}
    >
      <DefinitionList
        items={[
          {
            term: 'Length',
            description: showWithUncertainty(consensus.lengthM, consensus.uLengthM, 'distance', display),
            note: `mean of ${consensus.testers} ${consensus.testers === 1 ? 'tester' : 'testers'} over ${consensus.recordings} recordings, weighted`,
          },
          {
            term: 'Registered length minus this',
            description: showWithUncertainty(
              registered.lengthM - consensus.lengthM,
              registered.uDifferenceM,
              'height',
              display,
              { signed: true },
            ),
          },
          {
            term: 'Off cruise',
            description: `${showShare(offCruise.mean, display)} of the way`,
            note: `from ${showShare(offCruise.low, display)} to ${showShare(offCruise.high, display)}; registered ${showShare(registered.offCruiseShare, display)}`,
          },
        ]}
      />
      {consensus.birgeRatio === null ? null : (
        <Disclosure title="How well the recordings agree">
          <p className="max-w-[46rem]">
            The Birge ratio is {showFactor(consensus.birgeRatio, display)}: how far the recordings lie apart,
            compared with what their ± would let one expect.
          </p>
        </Disclosure>
      )}
    </Section>
  );
}
