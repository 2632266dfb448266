import { countText } from '@/app/ui/countText';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Disclosure } from '@/app/ui/Disclosure';
import { Link } from '@/app/ui/Link';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import {
  showNumber,
  showPercentEstimate,
  showQuantity,
  showShare,
  showWithUncertainty,
} from '@/lib/units/show';

/** What is fixed about the loop, with its uncertainty and where it is from. */
export function LoopFacts({ loop, display }: { loop: LoopView; display: Display }) {
  return (
    <Section id="facts" title="The loop" note={PLUS_MINUS}>
      <DefinitionList
        items={[
          {
            term: 'Length',
            description:
              loop.lengthUncertaintyM > 0
                ? showWithUncertainty(loop.lengthM, loop.lengthUncertaintyM, 'distance', display)
                : showQuantity(loop.lengthM, 'distance', display, { decimals: 2 }),
            note: `from: ${loop.lengthSource}`,
          },
          { term: 'Turnaround', description: loop.turnaround },
          {
            term: 'Posted limit',
            description: `${showQuantity(loop.postedLimitMps, 'km/h', display, { decimals: 0 })} (${showQuantity(loop.postedLimitMps, 'mph', display, { decimals: 0 })})`,
            note: 'The lowest on the open legs. A cruise class above it is refused.',
          },
          {
            term: 'Off cruise',
            description: `${showShare(loop.offCruiseShare, display)} of the way`,
            note: 'Ramps, the turnaround and other stretches that cannot be driven at the cruise speed.',
          },
          {
            term: 'Mean altitude',
            description: showQuantity(loop.altitudeM, 'height', display, { decimals: 0 }),
          },
          {
            term: 'Start to finish',
            description: `${showQuantity(loop.closureDistanceM, 'height', display, { decimals: 0 })} apart, ${showQuantity(loop.closureHeightM, 'height', display, { decimals: 0 })} in height`,
          },
          {
            term: 'Same road both ways',
            description: showShare(loop.sharedRouteShare, display, { decimals: 0 }),
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
export const LEAST_SEEN = 0.00005;

/** How runs on it repeat, from the runs themselves. */
export function Repeatability({ loop, display }: { loop: LoopView; display: Display }) {
  const { repeatability: found, counts, classes } = loop;
  const spread =
    found === null
      ? undefined
      : showPercentEstimate(
          { percent: 100 * found.sr, low: 100 * found.low, high: 100 * found.high },
          display,
          { signed: false },
        );
  return (
    <Section
      id="repeatability"
      title="How well runs repeat"
      note="How far runs of one setup on one day differ by themselves: by driver, traffic, gusts and the rounding of the display."
    >
      <p className="mb-3 text-sm">
        {countText(counts)}, {counts.setups} {counts.setups === 1 ? 'setup' : 'setups'}:{' '}
        {classes.map(({ label, runs }) => `${runs} at ${label}`).join(', ')}.
      </p>
      {found === null || spread === undefined ? (
        <p className="text-ink-soft">No setup was driven twice in a session here yet.</p>
      ) : found.sr < LEAST_SEEN ? (
        <p className="text-ink-soft">
          The repeated runs agree to the last digit of the displays, so their scatter cannot be seen yet.
        </p>
      ) : (
        <DefinitionList
          items={[
            {
              term: 'Usual scatter of repeated runs',
              description: `${spread.value} %`,
              note: `95 % interval ${spread.interval} %; ${found.cells} ${found.cells === 1 ? 'setup' : 'setups'} driven twice or more in a session`,
            },
            {
              term: 'Two runs of one session differ by less than',
              description: `${showNumber(100 * found.limit, spread.decimals, display)} %`,
              note: 'in 95 % of cases',
            },
          ]}
        />
      )}
      {found === null ? null : (
        <Disclosure title="In the terms of specialists">
          <p className="max-w-[46rem]">
            The usual scatter is a standard deviation s on {found.dof}{' '}
            {found.dof === 1 ? 'degree' : 'degrees'} of freedom, called repeatability. Two runs differ by less
            than the repeatability limit, 2.8 s (ISO 5725-6).
          </p>
        </Disclosure>
      )}
    </Section>
  );
}
