import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { ScatterBand } from '@/app/ui/figures/ScatterBand';
import type { RoadLoadView } from '@/lib/registry/roadLoads/roadLoad';
import { type Display, unitFor } from '@/lib/units/display';
import { placeOf, showInterval, showNumber, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../../consumptionText';

type Learned = NonNullable<RoadLoadView['learned']>;

/** Normal deviate of a 95 % interval. */
const Z95 = 1.96;

/** Consumption against steady speed at reference conditions, with the runs that it was learned from. */
export function RoadLoadFigure({ learned, display }: { learned: Learned; display: Display }) {
  const speedUnit = unitFor('speed', display);
  const speed = (mps: number) => fromCanonical(mps, speedUnit);
  const shown = (whPerKm: number) => fromCanonical(whPerKm, display.consumption);
  const ends = (whPerKm: number, u: number) =>
    [shown(whPerKm - Z95 * u), shown(whPerKm + Z95 * u)].toSorted((a, b) => a - b) as [number, number];
  const interval = (whPerKm: number, u: number) =>
    showInterval(whPerKm - Z95 * u, whPerKm + Z95 * u, 'consumption', display, { bare: true });
  const { band, points } = learned;
  const speeds = points.map((point) => speed(point.cruiseSpeedMps));
  const reach = [Math.min(...speeds), Math.max(...speeds)] as const;
  const symbol = unitSymbol(display.consumption);
  const mass = showQuantity(learned.massKg, 'mass', display, { decimals: 0 });
  const tabulated = band.filter((_, index) => index % 3 === 0);
  return (
    <FigureWithTable
      caption={`Consumption against steady speed at reference conditions (${showQuantity(20, 'temperature', display, { decimals: 0 })}, ${showNumber(1.189, 3, display)} kg/m³, calm, level, 500 W of auxiliary power) and ${mass}, the mean of the runs.`}
      reading="The band holds 95 % of single runs of a further car. A dot is a run at its own speed, moved along the curve to reference conditions; outside the speeds driven the curve is dashed."
      tableCaption="Consumption against steady speed"
      table={{
        columns: [
          { header: 'Speed', unit: unitSymbol(speedUnit) },
          { header: 'Consumption', unit: symbol },
          { header: 'Model’s mean, 95 %', unit: symbol },
          { header: 'One run of a further car, 95 %', unit: symbol },
        ],
        rows: tabulated.map((row) => [
          showNumber(speed(row.speedMps), 0, display),
          consumptionNumber(
            row.consumptionWhPerKm,
            display,
            placeOf(row.consumptionWhPerKm, row.uMeanWhPerKm, 'consumption', display),
          ),
          interval(row.consumptionWhPerKm, row.uMeanWhPerKm),
          interval(row.consumptionWhPerKm, row.uRunWhPerKm),
        ]),
      }}
    >
      <ScatterBand
        title="Consumption against steady speed"
        desc={`${points.length} runs between ${showNumber(reach[0], 0, display)} and ${showNumber(reach[1], 0, display)} ${unitSymbol(speedUnit)} with the learned curve and its 95 % band.`}
        points={points.map((point) => ({
          key: String(point.runNumber),
          x: speed(point.cruiseSpeedMps),
          y: shown(point.consumptionWhPerKm),
        }))}
        line={band.map((row) => ({ x: speed(row.speedMps), y: shown(row.consumptionWhPerKm) }))}
        band={band.map((row) => {
          const [low, high] = ends(row.consumptionWhPerKm, row.uRunWhPerKm);
          return { x: speed(row.speedMps), low, high };
        })}
        reach={reach}
        xLabel={`Steady speed, ${unitSymbol(speedUnit)}`}
        yLabel={`Consumption, ${symbol}`}
        pointLabel="run"
        lineLabel="learned"
        bandLabel="95 % of runs of a further car"
      />
    </FigureWithTable>
  );
}
