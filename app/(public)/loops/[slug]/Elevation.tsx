import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import { formatNumber, formatQuantity } from '@/lib/units/format';

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;

/** Height above sea level along the way. */
export function Elevation({ loop }: { loop: LoopView }) {
  const { elevation } = loop;
  if (elevation.length < 2) return null;
  const heights = elevation.map((point) => point.heightM);
  const lowest = Math.min(...heights);
  const highest = Math.max(...heights);
  const step = Math.max(1, Math.ceil(elevation.length / TABLE_ROWS));
  const summary = `Between ${formatNumber(lowest, 0)} and ${formatNumber(highest, 0)} m above sea level${
    loop.grossClimbM === null
      ? ''
      : `, ${formatQuantity(loop.grossClimbM, 'm', { decimals: 0 })} of climb in all`
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
              formatQuantity(point.distanceM, 'km', { decimals: 1 }),
              formatQuantity(point.heightM, 'm', { decimals: 0 }),
            ]),
        }}
      >
        <ProfilePlot
          title={`Height along ${loop.name}`}
          desc={summary}
          panels={[
            {
              key: 'height',
              label: 'Height above sea level, m',
              filled: true,
              points: elevation.map((point) => ({
                distance: point.distanceM / 1000,
                value: point.heightM,
              })),
            },
          ]}
          markers={[{ distance: loop.turnaroundAtM / 1000, label: 'Turnaround' }]}
          distanceLabel="distance, km"
        />
      </FigureWithTable>
    </Section>
  );
}
