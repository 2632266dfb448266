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

interface RunWind {
  /** Null in a calm, or where none was reported. */
  windFromDeg: number | null;
  windSpeedMps: number | null;
}

/** From where the wind blew in the approved runs of a loop, in twelve sectors. */
export function windRose(runs: readonly RunWind[]): WindRose {
  const width = 360 / SECTORS;
  const speeds: number[][] = Array.from({ length: SECTORS }, () => []);
  for (const { windFromDeg, windSpeedMps } of runs) {
    if (windFromDeg === null || windSpeedMps === null || windSpeedMps === 0) continue;
    speeds[Math.round(windFromDeg / width) % SECTORS]?.push(windSpeedMps);
  }
  const counted = speeds.reduce((sum, own) => sum + own.length, 0);
  return {
    sectorWidthDeg: width,
    sectors: speeds.map((own, index) => ({
      bearingDeg: index * width,
      runs: own.length,
      share: counted === 0 ? 0 : own.length / counted,
      meanSpeedMps: own.length === 0 ? 0 : own.reduce((sum, speed) => sum + speed, 0) / own.length,
    })),
    runs: counted,
    without: runs.length - counted,
  };
}
