import type { FigureDescription } from '@/app/ui/figures/description';
import type { RoadLoadView } from '@/lib/registry/roadLoads/roadLoad';
import type { WorldKey } from '@/lib/run/world';
import { type Display, displayParameters, unitFor } from '@/lib/units/display';
import { placeOf, showInterval, showNumber, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber } from '../../consumptionText';
import { hrefWith } from '../../rankings/query';

type Learned = NonNullable<RoadLoadView['learned']>;

/** Normal deviate of a 95 % interval. */
const Z95 = 1.96;

/** Every so many speeds of the curve stand in the table. */
const TABULATED = 3;

/** Consumption against steady speed at reference conditions, with the runs that it was learned from. */
export function roadLoadFigure(
  model: { slug: string; name: string; world: WorldKey },
  learned: Learned,
  display: Display,
): FigureDescription {
  const unit = display.consumption;
  const speedUnit = unitFor('speed', display);
  const said = Object.fromEntries(displayParameters(display));
  const speed = (mps: number) => fromCanonical(mps, speedUnit);
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const ends = (whPerKm: number, u: number) =>
    [shown(whPerKm - Z95 * u), shown(whPerKm + Z95 * u)].toSorted((a, b) => a - b) as [number, number];
  const interval = (whPerKm: number, u: number) =>
    showInterval(whPerKm - Z95 * u, whPerKm + Z95 * u, 'consumption', display, { bare: true });
  const { band, points } = learned;
  const speeds = points.map((point) => speed(point.cruiseSpeedMps));
  const reach = [Math.min(...speeds), Math.max(...speeds)] as const;
  const curve = (row: Learned['band'][number]) =>
    consumptionNumber(
      row.consumptionWhPerKm,
      display,
      placeOf(row.consumptionWhPerKm, row.uMeanWhPerKm, 'consumption', display),
    );
  const symbol = unitSymbol(unit);
  const speedSymbol = unitSymbol(speedUnit);
  const mass = showQuantity(learned.massKg, 'mass', display, { decimals: 0 });
  const tabulated = band.filter((_, index) => index % TABULATED === 0);
  const range = `${showNumber(reach[0], 0, display)} to ${showNumber(reach[1], 0, display)} ${speedSymbol}`;
  return {
    address: { kind: 'road-load', key: model.slug, query: said },
    title: `${model.name}: consumption against steady speed, learned from ${points.length} runs at ${range}.`,
    desc: tabulated
      .map((row) => `${showNumber(speed(row.speedMps), 0, display)} ${speedSymbol}: ${curve(row)} ${symbol}`)
      .join('. '),
    reading: `At reference conditions (${showQuantity(20, 'temperature', display, { decimals: 0 })}, ${showNumber(1.189, 3, display)} kg/m³, calm, level, 500 W of auxiliary power) and ${mass}, the mean of the runs. Of a car that was not among these, 95 in 100 runs would lie in the band. A dot is a run at its own speed, moved along the curve to reference conditions; outside the speeds driven the curve is dashed.`,
    counts: `${learned.runs} runs · ${learned.cars} ${learned.cars === 1 ? 'car' : 'cars'} · at reference conditions, ${mass}`,
    source: { path: hrefWith(`/models/${model.slug}`, {}, said), asOf: learned.learnedAt.slice(0, 10) },
    isDemo: model.world === 'demo',
    mark: display.mark,
    drawing: {
      kind: 'scatter',
      points: points.map((point, index) => ({
        key: String(point.runNumber),
        x: speed(point.cruiseSpeedMps),
        y: shown(point.consumptionWhPerKm),
        row: tabulated.length + index,
      })),
      line: band.map((row, index) => ({
        x: speed(row.speedMps),
        y: shown(row.consumptionWhPerKm),
        ...(index % TABULATED === 0 ? { row: index / TABULATED } : {}),
      })),
      band: band.map((row) => {
        const [low, high] = ends(row.consumptionWhPerKm, row.uRunWhPerKm);
        return { x: speed(row.speedMps), low, high };
      }),
      reach,
      xLabel: `steady speed, ${speedSymbol}`,
      yLabel: `consumption, ${symbol}`,
      pointLabel: 'run',
      lineLabel: 'learned',
      bandLabel: '95 % of the runs of another car',
    },
    table: {
      caption: 'Consumption against steady speed: the curve, then the runs',
      columns: [
        { header: 'Of' },
        { header: 'Speed', unit: speedSymbol },
        { header: 'Consumption', unit: symbol },
        { header: 'Model’s mean, 95 %', unit: symbol },
        { header: 'One run of another car, 95 %', unit: symbol },
      ],
      rows: [
        ...tabulated.map((row) => [
          'curve',
          showNumber(speed(row.speedMps), 0, display),
          curve(row),
          interval(row.consumptionWhPerKm, row.uMeanWhPerKm),
          interval(row.consumptionWhPerKm, row.uRunWhPerKm),
        ]),
        ...points.map((point) => [
          { text: `run ${point.runNumber}`, href: `/runs/${point.runNumber}` },
          showNumber(speed(point.cruiseSpeedMps), 1, display),
          consumptionNumber(point.consumptionWhPerKm, display),
          '–',
          '–',
        ]),
      ],
    },
  };
}
