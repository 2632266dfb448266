import type { RunRecord } from '@/lib/run/runRecord';
import { evaluateRun, type FindingResult } from './evaluate';
import type { Neighbourhood, RunFacts } from './facts';
import type { ProtocolVersion } from './parameters';

/** What the rules look at besides the reduction. */
type Circumstances = Pick<RunFacts, 'evidenceKinds' | 'pictures' | 'photoTimes' | 'now'> & {
  duplicateOfRunNumber: number | undefined;
  neighbourhood?: Neighbourhood;
};

/** What a reduction says of a run: as driven, where a recording tells it better than the form. */
interface ReducedFacts
  extends Pick<RunFacts, 'loop' | 'cruiseClass' | 'checks' | 'energy' | 'normalisation'> {
  record: Partial<RunRecord>;
  car: {
    placardFrontPa: number | undefined;
    placardRearPa: number | undefined;
    hasSpeedometerCalibration: boolean;
  };
}

/** The protocol's findings on a reduced run. */
export function judgeRun(
  record: RunRecord,
  { facts }: { facts: ReducedFacts },
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
