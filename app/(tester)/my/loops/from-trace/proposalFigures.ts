import type { FigureDescription } from '@/app/ui/figures/description';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import { dateText } from '@/lib/run/localDate';
import { formatNumber, formatQuantity } from '@/lib/units/format';

const TABLE_ROWS = 24;

/** A proposal is its tester's alone: its figures have no address. */
const own = (proposal: LoopProposal) => ({
  counts: `one recording of ${formatQuantity(proposal.lengthM, 'km', { decimals: 1 })}`,
  source: { path: '/my/loops/from-trace', asOf: dateText(new Date()) },
  isDemo: false,
});

export function outlineFigure(proposal: LoopProposal): FigureDescription {
  return {
    ...own(proposal),
    title: 'Outline of the loop as recorded, in its true shape, north up, without its ends.',
    desc: 'As recorded, in its true shape, north up, without its ends.',
    drawing: {
      kind: 'map',
      legs: [
        {
          key: 'route',
          label: 'as driven',
          points: proposal.outline.map(({ x, y }) => ({ eastM: x, northM: y })),
        },
      ],
      places: [],
    },
    table: {
      caption: 'Legs',
      columns: [{ header: 'Leg' }, { header: 'Length', unit: 'km' }, { header: 'Net climb', unit: 'm' }],
      rows: proposal.legs.map((leg) => [
        leg.direction,
        formatNumber(leg.lengthM / 1000, 2),
        formatNumber(leg.netClimbM, 0, { signed: true }),
      ]),
    },
  };
}

export function heightFigure(proposal: LoopProposal): FigureDescription {
  const { elevationProfile } = proposal;
  const step = Math.max(1, Math.ceil(elevationProfile.length / TABLE_ROWS));
  const tabulated = elevationProfile.filter((_, index) => index % step === 0);
  return {
    ...own(proposal),
    title: 'Height along the loop, smoothed over 150 m.',
    desc: 'Height above sea level along the way, smoothed over 150 m.',
    drawing: {
      kind: 'profile',
      panels: [
        {
          key: 'height',
          label: 'height above sea level, m',
          filled: true,
          points: elevationProfile.map(({ distanceM, heightM }) => ({
            distance: distanceM / 1000,
            value: heightM,
          })),
        },
      ],
      markers: [{ distance: proposal.turnaroundM / 1000, label: 'Turnaround' }],
      distanceLabel: 'distance, km',
      tabulated: tabulated.map(({ distanceM }) => distanceM / 1000),
    },
    table: {
      caption: 'Height along the way, thinned',
      columns: [
        { header: 'Distance', unit: 'km' },
        { header: 'Height', unit: 'm' },
      ],
      rows: tabulated.map(({ distanceM, heightM }) => [
        formatNumber(distanceM / 1000, 1),
        formatNumber(heightM, 0),
      ]),
    },
  };
}
