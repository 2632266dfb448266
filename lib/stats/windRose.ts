export interface WindSector {
  /** Middle of the sector, degrees clockwise from true north, where the wind came from. */
  bearingDeg: number;
  runs: number;
  /** Of the runs whose wind had a direction. */
  share: number;
  meanSpeedMps: number;
}

export interface WindRose {
  sectorWidthDeg: number;
  sectors: WindSector[];
  /** Runs with a direction; the rest was calm or had none reported. */
  runs: number;
  without: number;
}

const SECTORS = 12;

/** One sector's runs and the sum of their wind speeds in m/s; sector null: calm, or no direction reported. */
export interface SectorWinds {
  sector: number | null;
  runs: number;
  speedSum: number;
}

/** From where the wind blew in the counted runs of a loop, in twelve sectors. */
export function windRose(winds: readonly SectorWinds[]): WindRose {
  const width = 360 / SECTORS;
  const bySector = new Map(winds.map((row) => [row.sector, row]));
  const total = winds.reduce((sum, { runs }) => sum + runs, 0);
  const counted = total - (bySector.get(null)?.runs ?? 0);
  return {
    sectorWidthDeg: width,
    sectors: Array.from({ length: SECTORS }, (_, index) => {
      const { runs, speedSum } = bySector.get(index) ?? { runs: 0, speedSum: 0 };
      return {
        bearingDeg: index * width,
        runs,
        share: counted === 0 ? 0 : runs / counted,
        meanSpeedMps: runs === 0 ? 0 : speedSum / runs,
      };
    }),
    runs: counted,
    without: total - counted,
  };
}
