import { youngClassSpread } from '@/lib/physics/priors';
import type { WorldKey } from '@/lib/run/world';
import type { FitOptions } from '@/lib/stats/groupFit';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { poolWorld } from './worldPool';

/** What every fit of a class is made with beside its runs: counts of the protocol, priors, and what is pooled. */
export async function fitOptionsOf(
  registry: Registry,
  of: { world: WorldKey; methodVersion: string; usesPooled: boolean },
): Promise<FitOptions & Required<Pick<FitOptions, 'minimumCounts' | 'priors'>>> {
  const { runs, sessions, carsAcrossModels } = (await activeProtocol(registry)).parameters.ranking;
  const pooledCarLoop = of.usesPooled ? await poolWorld(registry, of.world, of.methodVersion) : undefined;
  return {
    minimumCounts: { runs, sessions, cars: carsAcrossModels },
    priors: youngClassSpread(),
    ...(pooledCarLoop === undefined ? {} : { pooledCarLoop }),
  };
}
