import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';

/**
 * Effective degrees of freedom are reported no higher than this: the t quantile there equals the normal one to 2·10⁻⁶,
 * and a finite number survives JSON.
 */
export const DOF_CAP = 1e6;

const NORMAL_975 = normalQuantile(0.975, 0, 1);

/** The two-sided 95 % coverage factor t_0.975(ν) (JCGM 100:2008, G.3.4); ν need not be whole. */
export function coverageFactor95(dof: number): number {
  return dof >= DOF_CAP ? NORMAL_975 : tQuantile(0.975, dof);
}
