import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import { registry } from '@/app/visitor/registry';
import { consensusOfLoop } from '@/lib/registry/loops/loopConsensus';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';

const percent = (share: number) => `${formatNumber(100 * share, 1)} %`;

/** What the recordings of its runs say of the loop, where there are any. */
export async function Consensus({ slug }: { slug: string }) {
  const found = await consensusOfLoop(registry(), slug);
  if (found === undefined) return null;
  const { consensus, registered } = found;
  const { offCruise } = consensus;
  return (
    <Section
      id="recordings"
      title="By recordings of its runs"
      note="For comparison: results use the registered figures until the loop’s owner takes these over."
    >
      <DefinitionList
        items={[
          {
            term: 'Length',
            description: formatWithUncertainty(consensus.lengthM, consensus.uLengthM, 'km'),
            note: `mean of ${consensus.testers} ${consensus.testers === 1 ? 'tester' : 'testers'} over ${consensus.recordings} recordings, weighted; standard uncertainty${
              consensus.birgeRatio === null ? '' : `, Birge ratio ${formatNumber(consensus.birgeRatio, 2)}`
            }`,
          },
          {
            term: 'Registered length less this',
            description: formatQuantity(registered.lengthM - consensus.lengthM, 'm', {
              decimals: 0,
              signed: true,
            }),
            note: `standard uncertainty of the difference ${formatQuantity(registered.uDifferenceM, 'm', { decimals: 0 })}`,
          },
          {
            term: 'Off cruise',
            description: `${percent(offCruise.mean)} of the way`,
            note: `from ${percent(offCruise.low)} to ${percent(offCruise.high)}; registered ${percent(registered.offCruiseShare)}`,
          },
        ]}
      />
    </Section>
  );
}
