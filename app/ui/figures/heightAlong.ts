import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import type { FigureDescription } from './description';

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;

/** Height above sea level along a loop, as a profile with its table. */
export function heightAlong(
  points: readonly { distanceM: number; heightM: number }[],
  turnaroundAtM: number,
  display: Display,
): Pick<FigureDescription, 'drawing' | 'table'> {
  const along = (distanceM: number) => fromCanonical(distanceM, display.distance);
  const step = Math.max(1, Math.ceil(points.length / TABLE_ROWS));
  const tabulated = points.filter((_, index) => index % step === 0);
  return {
    drawing: {
      kind: 'profile',
      panels: [
        {
          key: 'height',
          label: `height above sea level, ${unitSymbol(display.height)}`,
          filled: true,
          points: points.map(({ distanceM, heightM }) => ({
            distance: along(distanceM),
            value: fromCanonical(heightM, display.height),
          })),
        },
      ],
      markers: [{ distance: along(turnaroundAtM), label: 'Turnaround' }],
      distanceLabel: `distance, ${unitSymbol(display.distance)}`,
      tabulated: tabulated.map(({ distanceM }) => along(distanceM)),
    },
    table: {
      caption: 'Height along the way, point by point',
      columns: [
        { header: 'Distance', unit: unitSymbol(display.distance) },
        { header: 'Height', unit: unitSymbol(display.height) },
      ],
      rows: tabulated.map(({ distanceM, heightM }) => [
        showQuantity(distanceM, 'distance', display, { decimals: 1, bare: true }),
        showQuantity(heightM, 'height', display, { decimals: 0, bare: true }),
      ]),
    },
  };
}
