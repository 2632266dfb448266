import { z } from 'zod';
import { authorise, requireSignedIn } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import type { Person } from '@/lib/protocol/runTrail';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf, type WorldKey, worldKey } from '@/lib/run/world';
import {
  type CorrectionFilter,
  countCorrections,
  listCorrections,
  type StoredCorrection,
} from '@/lib/store/corrections';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';
import { type SubjectNamed, subjectNamed } from './subjectNamed';

const PAGE_SIZE = 50;

export interface CorrectionRow {
  number: number;
  subject: SubjectNamed;
  world: WorldKey;
  state: StoredCorrection['state'];
  reason: string;
  proposedAt: string;
  proposedBy: Person;
  runs: number;
}

export interface CorrectionsView extends Page<CorrectionRow> {
  total: number;
  isOpen: boolean;
  /** Whether it lists everybody's, or the reader's own and those of runs of theirs. */
  ofAll: boolean;
}

/** Corrections that wait, or those decided: all for reviewers, for testers what concerns them. */
export async function readCorrections(
  registry: Registry,
  actor: Actor | undefined,
  query: { from?: string | undefined; isOpen: boolean },
): Promise<CorrectionsView> {
  requireSignedIn(actor);
  const ofAll = may(actor, 'readQueue');
  const filter: CorrectionFilter = {
    isOpen: query.isOpen,
    ...(ofAll ? { onlyWorld: onlyWorldOf(actor) } : { concerning: actor.accountId }),
  };
  const [page, total] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.integer]).transform(([last]) => last),
      read: (place, take) => listCorrections(registry.db, filter, place, take),
      keyOf: ({ number }) => [number],
    }),
    countCorrections(registry.db, filter),
  ]);
  const rows = await Promise.all(
    page.rows.map(async ({ _count, proposedAt, kind, subjectId, proposedById, ...row }) => ({
      ...row,
      subject: await subjectNamed(registry.db, { kind, subjectId, proposedById }, actor),
      world: worldKey(row.world),
      proposedAt: proposedAt.toISOString(),
      runs: _count.runs,
    })),
  );
  return { ...page, rows, total, isOpen: query.isOpen, ofAll };
}

/** How many wait, for the reviewers' queue. */
export async function countOpenCorrections(registry: Registry, actor: Actor | undefined): Promise<number> {
  authorise(actor, 'readQueue');
  return countCorrections(registry.db, { isOpen: true, onlyWorld: onlyWorldOf(actor) });
}
