import { useEffect, useMemo, useState } from 'react';
import type { FormCar } from '@/lib/registry/runs/formSubjects';
import type { RunForm } from '@/lib/run/runForm';
import type { Display } from '@/lib/units/display';
import { type LiveChecks, liveChecks } from './liveChecks';

/** The cross-checks of what was typed, once typing has paused: half a number is not remarked on. */
export function useSettledChecks(
  values: RunForm,
  view: { now: string; cars: readonly FormCar[] },
  display: Display,
): LiveChecks {
  const [settled, setSettled] = useState({ values, now: view.now });
  useEffect(() => {
    const timer = setTimeout(() => setSettled({ values, now: new Date().toISOString() }), 500);
    return () => clearTimeout(timer);
  }, [values]);
  return useMemo(() => {
    const car = view.cars.find((one) => one.id === settled.values.carId);
    return liveChecks(settled.values, settled.now, display, car?.usableCapacityWh);
  }, [settled, view, display]);
}
