import { BearingRose } from '@/app/ui/figures/BearingRose';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity } from '@/lib/units/show';

/** Which way the road runs and from where the wind came: together they say how much of it blew along. */
export function Directions({ loop, display }: { loop: LoopView; display: Display }) {
  const { wind } = loop;
  const blown = wind.sectors.filter((sector) => sector.runs > 0);
  const windSummary =
    wind.without === 0
      ? `Wind of all ${wind.runs} approved runs.`
      : `Wind of ${wind.runs} runs; ${wind.without} more were calm or had no direction reported.`;
  return (
    <Section
      id="directions"
      title="Direction and wind"
      note="Out and back cancel a wind along the road to first order only: what remains grows with its square, and crosswind never cancels."
      wide
    >
      <div className="grid gap-x-10 md:grid-cols-2">
        <FigureWithTable
          caption="Which way the road runs, by distance, both legs together."
          tableCaption="Directions of the route"
          table={{
            columns: [{ header: 'Direction of travel' }, { header: 'Share of the way', unit: '%' }],
            rows: [...loop.bearings]
              .sort((a, b) => a.bearingDeg - b.bearingDeg)
              .map(({ bearingDeg, share }) => [
                `${showNumber(bearingDeg, 0, display)}°`,
                showNumber(100 * share, 1, display),
              ]),
          }}
        >
          {loop.bearings.length === 0 ? (
            <p className="border-y border-dashed border-rule-strong py-6 text-ink-soft">
              No directions that can be read are stored for this loop.
            </p>
          ) : (
            <BearingRose
              title={`Directions of ${loop.name}`}
              desc="Share of the distance by direction of travel, north up."
              sectors={loop.bearings}
              sectorWidthDeg={loop.bearingWidthDeg}
              label="share of the distance"
            />
          )}
        </FigureWithTable>
        {wind.runs === 0 ? null : (
          <FigureWithTable
            caption={`From where the wind came. ${windSummary} The area of a petal goes with its share.`}
            tableCaption="Wind of the approved runs"
            table={{
              columns: [{ header: 'Wind from' }, { header: 'Runs' }, { header: 'Mean speed at 10 m' }],
              rows: blown.map((sector) => [
                `${showNumber(sector.bearingDeg, 0, display)}°`,
                String(sector.runs),
                showQuantity(sector.meanSpeedMps, 'wind', display, {
                  decimals: display.wind === 'm/s' ? 1 : 0,
                }),
              ]),
            }}
          >
            <BearingRose
              title={`Wind on ${loop.name}`}
              desc={windSummary}
              sectors={wind.sectors}
              sectorWidthDeg={wind.sectorWidthDeg}
              label="share of the runs, wind from"
            />
          </FigureWithTable>
        )}
      </div>
    </Section>
  );
}
