import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { refuseSuspended } from '@/lib/access/suspension';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import { parseNumbers } from '@/lib/run/numberField';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { drivesIn, lockStudy, type StoredStudy, studyById } from '@/lib/store/studies';
import { countGuesses, guessesOf, guessOf, putGuess } from '@/lib/store/studyGuesses';
import { GUESS_SIZE } from '@/lib/study/guess';
import type { Registry } from '../registry';

const guessSchema = z.object({
  studyId: z.uuid(),
  direction: z.enum(['less', 'more', 'same'], {
    error: 'No direction is chosen. | A size without one says nothing. | Choose one of the three.',
  }),
  size: z.string().max(40),
});

/**
 * Says what one expects of a running study's first difference, or says it anew: one an account, until the study ends.
 * Those who drive in it know too much. The log keeps that it was said, not what.
 */
export async function guessStudy(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'askForTest');
  refuseSuspended(actor, 'guessStudy');
  const { studyId, direction, size } = parseInput(guessSchema, input);
  const percent = direction === 'same' ? 0 : sizeOf(size);
  const { accountId } = actor;
  await registry.db.$transaction(async (tx) => {
    await lockStudy(tx, studyId);
    const study = await studyById(tx, studyId);
    if (study === null) throw new NotFound('This study does not exist.');
    authorise(actor, 'askForTest', undefined, worldKey(study.world));
    if (await drivesIn(tx, studyId, accountId))
      throw new NotAllowed('Those who drive in a study do not guess how it ends.', true);
    if (study.state !== 'running') throw new Conflict('Guesses are taken while a study is running.');
    const at = registry.now();
    const signed = direction === 'less' && percent > 0 ? -percent : percent;
    await putGuess(tx, { studyId, accountId, percent: signed, guessedAt: at });
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action: 'study.guess',
      subjectKind: 'study',
      subjectId: studyId,
    });
  });
}

function sizeOf(typed: string): number {
  const { values, issues } = parseNumbers({ size: typed }, [GUESS_SIZE]);
  if (issues.length > 0 || values.size === undefined) throw new InvalidInput(issues);
  return values.size;
}

export interface StudyGuesses {
  count: number;
  /** One's own; null where there is none. */
  own: number | null;
  mayGuess: boolean;
  /** All of them, once the study is complete; null before. */
  shown: number[] | null;
}

const MOST_SHOWN = 1000;

/** What of the guesses at a study may be seen: how many, one's own, and all of them when it is complete. */
export async function readGuesses(
  registry: Registry,
  actor: Actor | undefined,
  study: StoredStudy,
): Promise<StudyGuesses> {
  const { db } = registry;
  const drives = study.testers.some(({ accountId }) => accountId === actor?.accountId);
  const [count, own, shown] = await Promise.all([
    countGuesses(db, study.id),
    actor === undefined || drives ? null : guessOf(db, study.id, actor.accountId),
    study.state === 'complete' ? guessesOf(db, study.id, MOST_SHOWN) : null,
  ]);
  return {
    count,
    own,
    shown,
    mayGuess:
      study.state === 'running' &&
      !drives &&
      actor?.suspension === undefined &&
      may(actor, 'askForTest', undefined, worldKey(study.world)),
  };
}
