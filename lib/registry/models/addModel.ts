import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { usableCapacity } from '@/lib/capture/chargingSheet';
import { BODY_CLASSES } from '@/lib/run/bodyClass';
import { Conflict } from '@/lib/run/errors';
import { modelWords } from '@/lib/run/modelWords';
import { valuesOf } from '@/lib/run/namedValues';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { freeSlug, nameKey } from '@/lib/run/slug';
import { joinedWorld, RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { findOrInsertMaker, insertModel, isModelSlugTaken, modelByIdentity } from '@/lib/store/models';
import { claimName } from '../names/claimName';
import type { Registry } from '../registry';
import { makeSetup } from '../setups/addSetup';

const name = (label: string, least = 1) =>
  nameField({
    least,
    most: 80,
    tooShort: `${label} is missing. | It is part of the model’s name. | Enter it as the maker writes it.`,
    tooLong: `${label} is too long. | It is part of the model’s name. | Use at most 80 characters.`,
  });

/** What the data sheet says, when a model is added and when that is corrected. */
export const dataSheetValues = {
  bodyClass: z.enum(valuesOf(BODY_CLASSES)),
  kerbMassKg: z
    .number()
    .min(200, 'The mass is too small. | It is the registered kerb mass. | Enter it in kilograms.')
    .max(20_000, 'The mass is too large. | It is the registered kerb mass. | Enter it in kilograms.'),
  usableCapacityWh: usableCapacity.optional(),
  dragAreaM2: z.number().min(0.1).max(10).optional(),
  dragAreaSource: z.string().trim().min(1).max(300).optional(),
  hasHeatPump: z.boolean().default(false),
};

/** A value in place of the prior says where it comes from. */
export const DRAG_AREA_SOURCE = {
  path: ['dragAreaSource'],
  message:
    'The source of the drag area is missing. | A value that replaces the prior must be traceable. | Name the data sheet or measurement.',
};

export function hasDragAreaSource(model: {
  dragAreaM2?: number | undefined;
  dragAreaSource?: string | undefined;
}) {
  return model.dragAreaM2 === undefined || model.dragAreaSource !== undefined;
}

export const addModelSchema = z
  .object({
    makerName: name('The maker'),
    name: name('The model'),
    modelYear: z
      .number()
      .int()
      .min(
        1990,
        'The year is before 1990. | Only series-built electric cars are kept. | Enter the model year.',
      )
      .max(2100, 'The year is too far ahead. | It is the model year. | Enter the model year, four digits.'),
    variant: name('The variant', 0).default(''),
    ...dataSheetValues,
  })
  .refine(hasDragAreaSource, DRAG_AREA_SOURCE);

/** Adds a model (maker, model, year, variant) with the setup as it is delivered, from which the others differ. */
export async function addModel(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ modelId: string; slug: string }> {
  authorise(actor, 'addModel');
  const model = parseInput(addModelSchema, input);
  try {
    return await registry.db.$transaction(async (tx) => {
      const makerId = await findOrInsertMaker(tx, model.makerName, nameKey(model.makerName));
      const world = joinedWorld([registry.world, actor.world ?? RECORD]);
      if ((await modelByIdentity(tx, { ...model, makerId, world })) !== null) throw known();
      await claimName(tx, { kind: 'maker', scope: '', thingId: makerId, name: model.makerName }, 'makerName');
      const words = modelWords({ ...model, maker: { name: model.makerName } });
      const now = registry.now();
      const inserted = await insertModel(tx, {
        makerId,
        slug: await freeSlug(words, (candidate) => isModelSlugTaken(tx, candidate)),
        name: model.name,
        modelYear: model.modelYear,
        variant: model.variant,
        bodyClass: model.bodyClass,
        kerbMassKg: model.kerbMassKg,
        usableCapacityWh: model.usableCapacityWh ?? null,
        dragAreaM2: model.dragAreaM2 ?? null,
        dragAreaSource: model.dragAreaSource ?? null,
        hasHeatPump: model.hasHeatPump,
        world,
        createdAt: now,
      });
      const scope = `${makerId} ${world}`;
      await claimName(tx, { kind: 'model', scope, thingId: inserted.id, name: model.name }, 'name');
      await appendAudit(tx, {
        at: now,
        actorId: actor.accountId,
        action: 'model.add',
        subjectKind: 'model',
        subjectId: inserted.id,
        details: { name: words },
      });
      await makeSetup(tx, registry, { model: { ...inserted, world }, levels: [], actorId: actor.accountId });
      return { modelId: inserted.id, slug: inserted.slug };
    });
  } catch (error) {
    if (isUniqueViolation(error)) throw known();
    throw error;
  }
}

function known(): Conflict {
  return new Conflict('This model, year and variant is in the registry already: choose it from the list.');
}
