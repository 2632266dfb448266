import Link from 'next/link';
import { countText } from '@/app/ui/countText';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';

const percent = (share: number, decimals = 1) => `${formatNumber(100 * share, decimals)} %`;

/** What is fixed about the loop, with its uncertainty and where it is from. */
export function LoopFacts({ loop }: { loop: LoopView }) {
  return (
    <Section id="facts" title="The loop">
      <DefinitionList
        items={[
          {
            term: 'Length',
            description:
              loop.lengthUncertaintyM > 0
                ? formatWithUncertainty(loop.lengthM, loop.lengthUncertaintyM, 'km')
                : formatQuantity(loop.lengthM, 'km', { decimals: 2 }),
            note: `standard uncertainty; from: ${loop.lengthSource}`,
          },
          { term: 'Turnaround', description: loop.turnaround },
          {
            term: 'Posted limit',
            description: `${formatQuantity(loop.postedLimitMps, 'km/h', { decimals: 0 })} (${formatQuantity(loop.postedLimitMps, 'mph', { decimals: 0 })})`,
            note: 'The lowest on the open legs. A cruise class above it is refused.',
          },
          {
            term: 'Off cruise',
            description: `${percent(loop.offCruiseShare)} of the way`,
            note: 'Ramps, the turnaround and other stretches that cannot be driven at the cruise speed.',
          },
          { term: 'Mean altitude', description: formatQuantity(loop.altitudeM, 'm', { decimals: 0 }) },
          {
            term: 'Closure',
            description: `${formatQuantity(loop.closureDistanceM, 'm', { decimals: 0 })} apart, ${formatQuantity(loop.closureHeightM, 'm', { decimals: 0 })} in height`,
            note: 'Between start and finish.',
          },
          {
            term: 'Same road both ways',
            description: percent(loop.sharedRouteShare, 0),
          },
          {
            term: 'Described by',
            description: (
              <Link className="link" href={`/testers/${loop.owner.slug}`}>
                {loop.owner.displayName}
              </Link>
            ),
          },
        ]}
      />
    </Section>
  );
}

/** Below it the two decimals shown would be 0.00 %. */
const LEAST_SEEN = 0.00005;

/** How runs on it repeat, from the runs themselves. */
export function Repeatability({ loop }: { loop: LoopView }) {
  const { repeatability: found, counts, classes } = loop;
  return (
    <Section
      id="repeatability"
      title="Repeatability"
      note="Of one setup in one session: what driver, traffic, gusts and the display’s resolution leave open."
    >
      <p className="mb-3 text-sm">
        {countText(counts)}, {counts.setups} {counts.setups === 1 ? 'setup' : 'setups'}:{' '}
        {classes.map(({ label, runs }) => `${runs} at ${label}`).join(', ')}.
      </p>
      {found === null ? (
        <p className="text-ink-soft">No setup was driven twice in a session here yet.</p>
      ) : found.sr < LEAST_SEEN ? (
        <p className="text-ink-soft">
          The repeated runs agree to the last digit of the displays, so their scatter cannot be seen yet.
        </p>
      ) : (
        <DefinitionList
          items={[
            {
              term: 'Standard deviation of repeated runs',
              description: percent(found.sr, 2),
              note: `95 % interval ${formatNumber(100 * found.low, 2)} to ${percent(found.high, 2)}; ${found.cells} ${found.cells === 1 ? 'setup' : 'setups'} driven twice or more in a session, ${found.dof} ${found.dof === 1 ? 'degree' : 'degrees'} of freedom`,
            },
            {
              term: 'Repeatability limit',
              description: percent(found.limit, 2),
              note: 'Two runs of one session differ by less than this in 95 % of cases (2.8 s, ISO 5725-6).',
            },
          ]}
        />
      )}
    </Section>
  );
}
