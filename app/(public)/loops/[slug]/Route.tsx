import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity } from '@/lib/units/show';

const LEG_LABELS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    outbound: 'outbound',
    return: 'return',
    route: 'route',
  }),
);

/** The route in its true shape, and its legs. */
export function Route({ loop, display }: { loop: LoopView; display: Display }) {
  const start = loop.outline[0]?.points[0];
  const turn = loop.outline.length === 2 ? loop.outline[1]?.points[0] : undefined;
  return (
    <Section
      id="route"
      title="Route"
      note="Drawn from the stored outline in its true shape, north up. The outline is in metres from the start and says nothing of where on earth it lies."
      wide
    >
      <FigureWithTable
        caption={`${loop.name}: out to ${loop.turnaround} and back.`}
        tableCaption={`Legs of ${loop.name}`}
        table={{
          columns: [
            { header: 'Leg' },
            { header: 'Length' },
            { header: 'Net climb' },
            { header: 'Mean direction' },
          ],
          rows: loop.legs.map((leg) => [
            LEG_LABELS.get(leg.direction) ?? leg.direction,
            showQuantity(leg.lengthM, 'distance', display, { decimals: 2 }),
            showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true }),
            leg.mainBearingDeg === null ? 'not known' : `${showNumber(leg.mainBearingDeg, 0, display)}°`,
          ]),
        }}
      >
        {start === undefined ? (
          <p className="border-y border-dashed border-rule-strong py-6 text-ink-soft">
            No outline that can be read is stored for this loop. A positioning trace of a run brings one.
          </p>
        ) : (
          <RouteMap
            title={`Route of ${loop.name}`}
            desc={`${showQuantity(loop.lengthM, 'distance', display, { decimals: 1 })} out and back, turning at ${loop.turnaround}.`}
            legs={loop.outline.map((leg) => ({
              key: leg.key,
              label: LEG_LABELS.get(leg.key) ?? leg.key,
              points: leg.points.map(({ x, y }) => ({ eastM: x, northM: y })),
            }))}
            places={[
              { kind: 'start', label: 'Start', eastM: start.x, northM: start.y },
              ...(turn
                ? [{ kind: 'turnaround' as const, label: loop.turnaround, eastM: turn.x, northM: turn.y }]
                : []),
            ]}
          />
        )}
      </FigureWithTable>
    </Section>
  );
}
