import { type WorldKey, worldKey } from '@/lib/run/world';
import { type CorrectedSubject, digestOfCandidates } from '@/lib/store/correctionRuns';
import type { Queryable } from '@/lib/store/database';
import { labelInEffect } from '../method/methodInEffect';

/** Of all that the computing rests on: where it is another by now, what was read is no longer what would be made. */
export async function fingerprintOf(
  db: Queryable,
  subject: CorrectedSubject,
  protocolId: string,
): Promise<{ fingerprint: string; count: number; worlds: WorldKey[] }> {
  const { digest, count, worlds } = await digestOfCandidates(db, subject);
  const known = worlds.map(worldKey);
  const labels = await Promise.all(known.map((world) => labelInEffect(db, world)));
  return { fingerprint: [digest, protocolId, ...labels].join(' '), count, worlds: known };
}
