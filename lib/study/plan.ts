import type { OrderKind } from './orders';

/** What a tester fixed before driving: public, and judged by from then on. */
export interface StudyPlan {
  question: string;
  cruiseClassKey: string;
  loopId: string;
  baselineId: string;
  /** Without the baseline. */
  setupIds: string[];
  /** Those of them whose difference from the baseline is asked for, and the factor that each moves. */
  contrasts: { setupId: string; factor: string }[];
  wantedPercent: number;
  power: number;
  runsADay: number;
  seed: number;
  orderKind: OrderKind;
  /** The order of each day, of setups' ids. */
  days: string[][];
  /** The day of the first session, YYYY-MM-DD, and how many days lie between two; null where none was named. */
  calendar: { firstDay: string; everyDays: number } | null;
  betweenRunsMin: number;
  pricePerKwh: number | null;
  /** What the plan was reckoned from and what was expected of it, as it stood then. */
  expected: {
    runVariance: number;
    isAssumed: boolean;
    power: number;
    detectablePercent: number | null;
    daysNeeded: number | null;
    hours: number;
    energyWh: number | null;
    chargingStops: number | null;
    cost: number | null;
  };
}

/** The setups of a plan, the baseline first. */
export function setupsOfPlan({ baselineId, setupIds }: Pick<StudyPlan, 'baselineId' | 'setupIds'>): string[] {
  return [baselineId, ...setupIds];
}

/** The local day of a session, counted from 0; null where the plan names none. */
export function dayOfSession({ calendar }: Pick<StudyPlan, 'calendar'>, session: number): string | null {
  if (calendar === null) return null;
  const start = new Date(`${calendar.firstDay}T00:00:00Z`).getTime();
  return new Date(start + session * calendar.everyDays * 86_400_000).toISOString().slice(0, 10);
}

/** Letters of setups in a printed order: A is the baseline. */
export function letterOf(plan: Pick<StudyPlan, 'baselineId' | 'setupIds'>, setupId: string): string {
  const at = setupsOfPlan(plan).indexOf(setupId);
  return at === -1 ? '?' : String.fromCharCode(65 + at);
}
