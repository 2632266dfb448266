import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;

/** Height above sea level along the way. */
export function Elevation({ loop, display }: { loop: LoopView; display: Display }) {
  const { elevation } = loop;
  if (elevation.length < 2) return null;
  const heights = elevation.map((point) => point.heightM);
  const lowest = Math.min(...heights);
  const highest = Math.max(...heights);
  const step = Math.max(1, Math.ceil(elevation.length / TABLE_ROWS));
  const summary = `Between ${showQuantity(lowest, 'height', display, { decimals: 0, bare: true })} and ${showQuantity(highest, 'height', display, { decimals: 0 })} above sea level${
    loop.grossClimbM === null
      ? ''
      : `, ${showQuantity(loop.grossClimbM, 'height', display, { decimals: 0 })} of climb in all`
  }.`;
  return (
    <Section
      id="elevation"
      title="Height along the way"
      note="What a leg climbs the other gives back, less what braking loses: steady slopes cost little, steep ones that need the brakes cost more."
      wide
    >
      <FigureWithTable
        caption={summary}
        tableCaption="Height along the way, thinned"
        table={{
          columns: [{ header: 'Distance' }, { header: 'Height' }],
          rows: elevation
            .filter((_, index) => index % step === 0)
            .map((point) => [
              showQuantity(point.distanceM, 'distance', display, { decimals: 1 }),
              showQuantity(point.heightM, 'height', display, { decimals: 0 }),
            ]),
        }}
      >
        <ProfilePlot
          title={`Height along ${loop.name}`}
          desc={summary}
          panels={[
            {
              key: 'height',
              label: `Height above sea level, ${unitSymbol(display.height)}`,
              filled: true,
              points: elevation.map((point) => ({
                distance: fromCanonical(point.distanceM, display.distance),
                value: fromCanonical(point.heightM, display.height),
              })),
            },
          ]}
          markers={[{ distance: fromCanonical(loop.turnaroundAtM, display.distance), label: 'Turnaround' }]}
          distanceLabel={`distance, ${unitSymbol(display.distance)}`}
        />
      </FigureWithTable>
    </Section>
  );
}
