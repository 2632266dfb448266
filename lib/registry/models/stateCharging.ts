import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { chargingValues, withSoundCurve } from '@/lib/capture/chargingSheet';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { modelInText } from '@/lib/run/modelWords';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import {
  type ChargingSheet,
  insertChargingSheet,
  isCapacityStated,
  isModelOf,
  lockedModelForCharging,
  moveModelCapacity,
  readChargingSheet,
} from '@/lib/store/chargingSheets';
import type { Queryable } from '@/lib/store/database';
import type { Registry } from '../registry';

export const stateChargingSchema = withSoundCurve(z.object({ modelId: z.uuid(), ...chargingValues }));

/**
 * States how a model charges, with the source. Earlier statements stay; the newest counts, and said twice it is one. A
 * usable capacity becomes the model's where it has none, or one that was stated here.
 */
export async function stateCharging(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ slug: string }> {
  const { modelId, ...sheet } = parseInput(stateChargingSchema, input);
  return registry.db.$transaction(async (tx) => {
    const model = await lockedModelForCharging(tx, modelId);
    if (model === null) throw new NotFound('This model does not exist.');
    const isOwn = actor !== undefined && (await isModelOf(tx, model, actor.accountId));
    authorise(actor, 'stateCharging', isOwn ? actor.accountId : undefined, worldKey(model.world));
    const statedAt = registry.now();
    const stated = {
      points: sheet.points,
      peakPowerW: sheet.peakPowerW ?? null,
      usableCapacityWh: sheet.usableCapacityWh ?? null,
      source: sheet.source,
    };
    if (saysTheSame(await readChargingSheet(tx, modelId), stated)) return { slug: model.slug };
    if (stated.usableCapacityWh !== null) await takeCapacity(tx, model, stated.usableCapacityWh);
    await insertChargingSheet(tx, { ...stated, modelId, statedById: actor.accountId, statedAt });
    await appendAudit(tx, {
      at: statedAt,
      actorId: actor.accountId,
      action: 'model.stateCharging',
      subjectKind: 'model',
      subjectId: modelId,
      details: { ...stated, model: modelInText(model) },
    });
    return { slug: model.slug };
  });
}

type Stated = Pick<ChargingSheet, 'points' | 'peakPowerW' | 'usableCapacityWh' | 'source'>;

function saysTheSame(newest: Stated | null, stated: Stated): boolean {
  const said = ({ points, peakPowerW, usableCapacityWh, source }: Stated) =>
    JSON.stringify([
      points.map(({ charge, powerW }) => [charge, powerW]),
      peakPowerW,
      usableCapacityWh,
      source,
    ]);
  return newest !== null && said(newest) === said(stated);
}

async function takeCapacity(
  tx: Queryable,
  model: { id: string; usableCapacityWh: number | null },
  usableCapacityWh: number,
): Promise<void> {
  const seen = model.usableCapacityWh;
  if (seen !== null && !(await isCapacityStated(tx, model.id, seen))) {
    throw new InvalidInput([
      {
        path: 'usableCapacityWh',
        what: 'The model has a usable capacity already.',
        why: 'It was added with it, and runs were sent with it.',
        fix: 'Leave the capacity out. One that was measured belongs to the car.',
      },
    ]);
  }
  if (!(await moveModelCapacity(tx, model.id, seen, usableCapacityWh)))
    throw new Conflict('Somebody stated a capacity of this model a moment ago. Look at it first.');
}
