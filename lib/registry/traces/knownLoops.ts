import type { KnownLoop } from '@/lib/capture/trace/loopMatch';
import type { ownLoopTraces } from '@/lib/store/traces';

export interface KnownOwnLoop extends KnownLoop {
  name: string;
}

/** Loops as a tester's own recordings saw them; one without a turnaround is no loop to match. */
export function knownOwnLoops(rows: Awaited<ReturnType<typeof ownLoopTraces>>): KnownOwnLoop[] {
  return rows.flatMap(({ loopId, name, trace }) => {
    if (trace === undefined || trace.places.turnaround === null) return [];
    const { start, turnaround, outline } = trace.places;
    return [{ id: loopId, name, start, turnaround, outline, lengthM: trace.reduction.distanceM }];
  });
}
