import { type LoopConsensus, loopConsensus } from '@/lib/reduction/loopConsensus';
import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import { runTrace } from '@/lib/reduction/runTrace';
import { isSlug } from '@/lib/run/slug';
import { loopBySlug } from '@/lib/store/loops';
import { tracesOnLoop } from '@/lib/store/traces';
import type { Registry } from '../registry';

export interface ConsensusView {
  consensus: LoopConsensus;
  registered: { lengthM: number; offCruiseShare: number; uDifferenceM: number };
}

const MOST_RECORDINGS = 500;

/** The consensus of the recordings of a loop's approved runs, those left out that are not of the whole loop. */
export async function readLoopConsensus(
  registry: Registry,
  loop: { id: string; lengthM: number; lengthUncertaintyM: number },
): Promise<LoopConsensus | null> {
  const rows = await tracesOnLoop(registry.db, loop.id, MOST_RECORDINGS);
  const recordings = rows.flatMap(({ number, run, trace }) => {
    if (trace === null || number !== run.approvedRevision) return [];
    const { distanceM, cruise, gapShare, reasonsNotUsed } = runTrace(
      recordingSnapshot('', trace.reduction, loop),
      loop,
    );
    if (cruise === null || reasonsNotUsed.length > 0) return [];
    const { offCruiseShare } = cruise;
    return [{ runNumber: run.number, testerId: run.testerId, distanceM, offCruiseShare, gapShare }];
  });
  return loopConsensus(recordings);
}

/** Undefined for a loop that does not exist or of which no approved run has a recording. */
export async function consensusOfLoop(registry: Registry, slug: string): Promise<ConsensusView | undefined> {
  if (!isSlug(slug)) return undefined;
  const loop = await loopBySlug(registry.db, slug);
  const consensus = loop && (await readLoopConsensus(registry, loop));
  if (loop === null || consensus === null) return undefined;
  return {
    consensus,
    registered: {
      lengthM: loop.lengthM,
      offCruiseShare: loop.offCruiseShare,
      uDifferenceM: Math.hypot(loop.lengthUncertaintyM, consensus.uLengthM),
    },
  };
}
