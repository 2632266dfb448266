import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { changedColumns } from '@/lib/reduction/corrections/change';
import { NotFound } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { worldKey } from '@/lib/run/world';
import { isModelOf } from '@/lib/store/chargingSheets';
import { lockSubject, modelToCorrect } from '@/lib/store/correctedSubjects';
import type { Queryable } from '@/lib/store/database';
import { DATA_SHEET } from '@/lib/store/names';
import { type Proposed, propose } from '../corrections/propose';
import { correctionReason, oneAtATime } from '../corrections/reason';
import type { Registry } from '../registry';
import { DRAG_AREA_SOURCE, dataSheetValues, hasDragAreaSource } from './addModel';

export const correctModelSchema = z
  .object({ slug: z.string().max(200), reason: correctionReason, ...dataSheetValues })
  .refine(hasDragAreaSource, DRAG_AREA_SOURCE);

const VALUES = Object.keys(DATA_SHEET) as (keyof typeof DATA_SHEET)[];

/**
 * Puts right what a model's data sheet was said to say. Runs of anybody may rest on it, so that it changes once a reviewer
 * has approved the correction with all of them; where none does, at once.
 */
export async function correctModel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<Proposed> {
  const { slug, reason, ...values } = parseInput(correctModelSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const found = await requireOwn(tx, actor, slug);
      await lockSubject(tx, 'model', found.id);
      const before = await modelToCorrect(tx, slug);
      if (before === null) throw gone();
      const columns = changedColumns(
        before,
        {
          ...values,
          usableCapacityWh: values.usableCapacityWh ?? null,
          dragAreaM2: values.dragAreaM2 ?? null,
          dragAreaSource: values.dragAreaSource ?? null,
        },
        VALUES,
      );
      return propose(
        tx,
        {
          subjectId: found.id,
          world: worldKey(found.world),
          change: { kind: 'model', columns },
          reason,
          byId: found.actor.accountId,
          act: { action: 'model.correct', subjectKind: 'model', details: columns },
        },
        registry.now(),
      );
    });
  } catch (error) {
    oneAtATime(error);
    throw error;
  }
}

/** What its form starts from. */
export async function modelForCorrection(registry: Registry, actor: Actor | undefined, slug: string) {
  const model = await requireOwn(registry.db, actor, slug);
  return { ...model, words: modelWords(model) };
}

/** Whether its page offers the form. */
export async function mayCorrectModel(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<boolean> {
  if (actor === undefined) return false;
  const model = await modelToCorrect(registry.db, slug);
  if (model === null) return false;
  const isOwn = await isModelOf(registry.db, model, actor.accountId);
  return may(actor, 'correctModel', isOwn ? actor.accountId : undefined, worldKey(model.world));
}

async function requireOwn(db: Queryable, actor: Actor | undefined, slug: string) {
  const model = isSlug(slug) ? await modelToCorrect(db, slug) : null;
  if (model === null) throw gone();
  const isOwn = actor !== undefined && (await isModelOf(db, model, actor.accountId));
  authorise(actor, 'correctModel', isOwn ? actor.accountId : undefined, worldKey(model.world));
  return { ...model, actor };
}

function gone(): NotFound {
  return new NotFound('This model does not exist.');
}
