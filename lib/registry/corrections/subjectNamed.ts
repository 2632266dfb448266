import type { CorrectedKind } from '@/lib/reduction/corrections/change';
import { modelWords } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { subjectWordsOf } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';

/** What is corrected, in words, and its page where the one who asks can open it. */
export interface SubjectNamed {
  kind: CorrectedKind;
  words: string;
  href: string | undefined;
}

const UNKNOWN = 'something that is not there any more';

/** A car goes by its model: its own name is its owner's affair. */
export async function subjectNamed(
  db: Queryable,
  { kind, subjectId, proposedById }: { kind: string; subjectId: string; proposedById: string },
  actor: Actor,
): Promise<SubjectNamed> {
  const known = kind as CorrectedKind;
  const found = await subjectWordsOf(db, known, subjectId);
  if (found === null) return { kind: known, words: UNKNOWN, href: undefined };
  switch (found.kind) {
    case 'car': {
      const isOwn = proposedById === actor.accountId;
      const car = isOwn ? found.name : `a car, ${modelWords(found.model)}`;
      return {
        kind: known,
        words: known === 'calibrations' ? `calibrations of ${car}` : car,
        href: isOwn ? `/my/cars/${subjectId}` : undefined,
      };
    }
    case 'model':
      return { kind: known, words: modelWords(found.model), href: `/models/${found.model.slug}` };
    case 'loop':
      return { kind: known, words: found.loop.name, href: `/loops/${found.loop.slug}` };
    case 'run':
      return { kind: known, words: `readings of run ${found.run.number}`, href: `/runs/${found.run.number}` };
  }
}
