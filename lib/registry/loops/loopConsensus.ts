import { loopBySlug } from '@/lib/store/loops';
import type { Registry } from '../registry';
import { type LoopConsensus, readLoopConsensus } from './consensus';

export interface ConsensusView {
  consensus: LoopConsensus;
  registered: { lengthM: number; offCruiseShare: number; uDifferenceM: number };
}

/** Undefined for a loop that does not exist or of which no approved run has a recording. */
export async function consensusOfLoop(registry: Registry, slug: string): Promise<ConsensusView | undefined> {
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
