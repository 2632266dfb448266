import { normalUpperQuantile } from '@/lib/numerics/distributions';
import type { GroupFit } from './groupFit';
import type { OrientedContrast } from './orientedContrast';

/** Two of each setup in one session (A B B A), as the protocol suggests. */
const RUNS_OF_EACH = 2;
const POWER = 0.8;
/** Beyond this many nobody drives: then no number of sessions is said. */
const MOST_SESSIONS = 40;

/**
 * Sessions with both setups, each driven twice, after which a difference as large as the present estimate would be
 * settled with a chance of four in five.
 *
 * A session of both says of their difference alone what its runs say, with variance w = 2(v + u²)/k for k runs of each
 * (method B9, same session), and independent information adds: 1/s'² = 1/s² + n/w. Settled is what leaves 0 out of
 * the class's interval, whose critical value c is read off the stored one; a chance P of that asks
 * |d| ≥ (c + z_P) se'. What the runs share by model and method (σ) does not shrink: se'² = s'² + σ². c is kept,
 * though it falls a little with more sessions, so the count is on the safe side.
 *
 * Log scale. Null where the two do not share cars (sessions of both cannot be driven), where the pair is settled or
 * has no interval, where it rests on one tester (more of the same do not help), or where it would take more than
 * MOST_SESSIONS.
 */
export function sessionsToSettle(
  contrast: Pick<
    OrientedContrast,
    'difference' | 'se' | 'sharedU' | 'simultaneous' | 'ofModel' | 'word' | 'restsOnOne'
  >,
  fit: Pick<GroupFit, 'repeatability' | 'components'>,
): number | null {
  const { difference, se, simultaneous, ofModel, word, restsOnOne } = contrast;
  if (difference === null || se === null || simultaneous === null || ofModel === null || !(se > 0))
    return null;
  if (word === 'settled' || word === null || restsOnOne || fit.repeatability === null) return null;
  const critical = (simultaneous[1] - simultaneous[0]) / 2 / se;
  const wanted = (Math.abs(difference) / (critical + normalUpperQuantile(1 - POWER))) ** 2;
  const shared = (contrast.sharedU ?? 0) ** 2;
  const own = se ** 2 - shared;
  const ownWanted = wanted - shared;
  if (!(own > 0 && ownWanted > 0)) return null;
  const ofSession = (2 * (fit.components.residual + fit.repeatability.meanKnownVariance)) / RUNS_OF_EACH;
  const sessions = Math.max(1, Math.ceil((1 / ownWanted - 1 / own) * ofSession));
  return sessions <= MOST_SESSIONS ? sessions : null;
}
