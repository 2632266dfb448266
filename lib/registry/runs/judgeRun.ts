import { evaluateRun, type FindingResult } from '@/lib/protocol/evaluate';
import type { RunFacts } from '@/lib/protocol/facts';
import type { ProtocolVersion } from '@/lib/protocol/parameters';
import type { ReducedRun } from '@/lib/reduction/reduceRun';
import type { RunRecord } from '@/lib/run/runRecord';

/** What the rules look at besides the reduction. */
type Circumstances = Pick<RunFacts, 'evidenceKinds' | 'now'> & { duplicateOfRunNumber: number | undefined };

/** The protocol's findings on a reduced run. */
export function judgeRun(
  record: RunRecord,
  { facts }: Pick<ReducedRun, 'facts'>,
  { duplicateOfRunNumber, ...circumstances }: Circumstances,
  protocol: ProtocolVersion,
): FindingResult[] {
  const { placardFrontPa, placardRearPa, hasSpeedometerCalibration } = facts.car;
  return evaluateRun(
    {
      ...facts,
      record: { ...record, ...facts.record },
      car: {
        hasSpeedometerCalibration,
        ...(placardFrontPa === undefined ? {} : { placardFrontPa }),
        ...(placardRearPa === undefined ? {} : { placardRearPa }),
      },
      ...circumstances,
      ...(duplicateOfRunNumber === undefined ? {} : { duplicateOfRunNumber }),
    },
    protocol,
  );
}
