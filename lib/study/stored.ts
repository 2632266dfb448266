import { z } from 'zod';
import { RUNS_A_DAY } from './orders';
import type { StudyPlan } from './plan';

/**
 * What this room's stored JSON may look like. A reader never throws: undefined is what cannot be read, and the page says
 * so.
 */
const finite = z.number();

const plan = z.object({
  question: z.string(),
  cruiseClassKey: z.string(),
  loopId: z.string(),
  baselineId: z.string(),
  setupIds: z.array(z.string()).min(1),
  contrasts: z.array(z.object({ setupId: z.string(), factor: z.string() })).min(1),
  wantedPercent: finite.positive(),
  power: finite.gt(0).lt(1),
  runsADay: finite.int().min(RUNS_A_DAY[0]),
  seed: finite.int(),
  orderKind: z.enum(['A B B A', 'in turn', 'there and back', 'Williams square', 'shared reference']),
  days: z.array(z.array(z.string()).min(1)).min(1),
  calendar: z.object({ firstDay: z.iso.date(), everyDays: finite.int().min(1) }).nullable(),
  betweenRunsMin: finite,
  pricePerKwh: finite.nullable(),
  expected: z.object({
    runVariance: finite.positive(),
    isAssumed: z.boolean(),
    power: finite,
    detectablePercent: finite.nullable(),
    daysNeeded: finite.nullable(),
    hours: finite,
    energyWh: finite.nullable(),
    chargingStops: finite.nullable(),
    cost: finite.nullable(),
  }),
});

/** Read whole or not at all: a part of a plan is not what was fixed. */
export function readPlan(stored: unknown): StudyPlan | undefined {
  const parsed = plan.safeParse(stored);
  return parsed.success ? parsed.data : undefined;
}
