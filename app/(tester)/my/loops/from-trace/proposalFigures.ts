import type { FigureDescription } from '@/app/ui/figures/description';
import { heightAlong } from '@/app/ui/figures/heightAlong';
import type { LoopProposal } from '@/lib/reduction/loopProposal';
import { dateText } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';

/** A proposal is its tester's alone: its figures have no address. */
const own = (proposal: LoopProposal, display: Display) => ({
  counts: `one recording of ${showQuantity(proposal.lengthM, 'distance', display, { decimals: 1 })}`,
  source: { path: '/my/loops/from-trace', asOf: dateText(new Date()) },
  isDemo: false,
  mark: display.mark,
});

export function outlineFigure(proposal: LoopProposal, display: Display): FigureDescription {
  return {
    ...own(proposal, display),
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
      columns: [
        { header: 'Leg' },
        { header: 'Length', unit: unitSymbol(display.distance) },
        { header: 'Net climb', unit: unitSymbol(display.height) },
      ],
      rows: proposal.legs.map((leg) => [
        leg.direction,
        showQuantity(leg.lengthM, 'distance', display, { decimals: 2, bare: true }),
        showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true, bare: true }),
      ]),
    },
  };
}

export function heightFigure(proposal: LoopProposal, display: Display): FigureDescription {
  return {
    ...own(proposal, display),
    title: 'Height along the loop, smoothed over 150 m.',
    desc: 'Height above sea level along the way, smoothed over 150 m.',
    ...heightAlong(proposal.elevationProfile, proposal.turnaroundM, display),
  };
}
