import { z } from 'zod';
import type { StepName } from '@/lib/physics/normalise';

/** Factors that steps of the adjustment brought into a run's result, ln; taken away they leave the step out. */
export interface StepLogs {
  windLog: number;
  airLog: number;
}

const WIND: readonly StepName[] = ['wind'];
const AIR: readonly StepName[] = ['density', 'rollingTemperature'];

const steps = z.array(z.object({ name: z.string(), factor: z.number().positive() }));

/** From the stored steps of a result; null where they cannot be read or the steps are not among them. */
export function readStepLogs(stored: unknown): StepLogs | null {
  const { data } = steps.safeParse(stored);
  if (data === undefined) return null;
  const factors = new Map(data.map(({ name, factor }) => [name, factor]));
  const sumOf = (names: readonly StepName[]) =>
    names.reduce((sum, name) => sum + Math.log(factors.get(name) ?? Number.NaN), 0);
  const [windLog, airLog] = [sumOf(WIND), sumOf(AIR)];
  return Number.isFinite(windLog) && Number.isFinite(airLog) ? { windLog, airLog } : null;
}
