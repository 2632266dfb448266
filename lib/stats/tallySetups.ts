/** What stands behind a setup's estimate, counted. */
export interface SetupTally {
  testers: number;
  cars: number;
  loops: number;
  days: number;
  /** Mean of what was measured, before normalisation: shown only beside the estimate. */
  rawMeanWhPerKm: number;
}

export interface TalliedRun {
  setupId: string;
  testerId: string;
  carId: string;
  loopId: string;
  day: string;
  measuredWhPerKm: number;
}

/** Counts runs as they come, so that none of them is kept. */
export class SetupTallies {
  private readonly counts = new Map<string, Counts>();

  add(run: TalliedRun): void {
    const own = this.counts.get(run.setupId) ?? new Counts();
    this.counts.set(run.setupId, own);
    own.add(run);
  }

  tallies(): Map<string, SetupTally> {
    return new Map([...this.counts].map(([setupId, counts]) => [setupId, counts.tally()]));
  }
}

class Counts {
  private readonly testers = new Set<string>();
  private readonly cars = new Set<string>();
  private readonly loops = new Set<string>();
  private readonly days = new Set<string>();
  private runs = 0;
  private measuredWhPerKm = 0;

  add(run: TalliedRun): void {
    this.testers.add(run.testerId);
    this.cars.add(run.carId);
    this.loops.add(run.loopId);
    this.days.add(run.day);
    this.runs += 1;
    this.measuredWhPerKm += run.measuredWhPerKm;
  }

  tally(): SetupTally {
    return {
      testers: this.testers.size,
      cars: this.cars.size,
      loops: this.loops.size,
      days: this.days.size,
      rawMeanWhPerKm: this.measuredWhPerKm / this.runs,
    };
  }
}
