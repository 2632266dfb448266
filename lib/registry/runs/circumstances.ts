import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { picturesLike } from '@/lib/store/pictures';
import { runWithContent } from '@/lib/store/runs';
import type { Registry } from '../registry';

/** A revision that is sent in, or was once, as far as the rules look beyond it. */
interface Judged {
  runId: string;
  contentHash: string;
  /** When it was sent in: what came later says nothing against it. */
  sentAt: Date;
  evidence: readonly {
    id: string;
    kind: string;
    capturedAt: Date | null;
    capturedUtcOffsetMin: number | null;
  }[];
}

/** What the protocol's rules look at besides the reduction: evidence, and other runs that were there before. */
export async function circumstancesOf(registry: Registry, { runId, contentHash, sentAt, evidence }: Judged) {
  return {
    evidenceKinds: evidence.map((file) => file.kind),
    pictures: await picturesLike(
      registry.db,
      evidence.map(({ id }) => id),
      NEARLY_SAME_BITS,
    ),
    photoTimes: evidence.flatMap(({ capturedAt, capturedUtcOffsetMin }) =>
      capturedAt === null ? [] : [{ at: capturedAt.toISOString(), utcOffsetMin: capturedUtcOffsetMin }],
    ),
    duplicateOfRunNumber: await runWithContent(registry.db, contentHash, runId, sentAt),
    now: sentAt.toISOString(),
  };
}
