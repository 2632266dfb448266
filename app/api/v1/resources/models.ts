import { z } from 'zod';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { resource, word } from '../resource';
import {
  classKey,
  count,
  cruiseClass,
  cursor,
  difference,
  estimate,
  level,
  page,
  pageOf,
  slug,
  text,
  world,
} from '../shapes';

const listed = z
  .object({
    slug: slug('the model'),
    maker: text('Maker'),
    name: text('Name'),
    modelYear: z.int().meta({ description: 'Model year' }),
    variant: text('Variant; may be empty'),
    bodyClass: text('Body'),
    setups: count('Setups'),
    cars: count('Physical cars'),
    runs: count('Runs that count'),
    world,
  })
  .meta({ id: 'ListedModel' });

export const models = resource({
  path: '/models',
  id: 'listModels',
  summary: 'Models by maker and name',
  pageOf: '/models',
  query: z.object({ find: word('Part of a name').optional(), from: cursor.optional() }),
  answer: pageOf(listed),
  list: 'items',
  read: async (registry, { query }) =>
    page(
      await readModels(registry, { text: query.find, from: query.from }),
      ({ approvedRuns, ...model }) => ({
        ...model,
        runs: approvedRuns,
      }),
    ),
});

const setupOfModel = z
  .object({
    slug: slug('the setup'),
    title: text('Title'),
    levels: z.array(level),
    runs: count('Runs that count, in all classes'),
    estimate: estimate.nullable(),
  })
  .meta({ id: 'SetupOfModel' });

export const model = resource({
  path: '/models/{slug}',
  id: 'getModel',
  summary: 'A model: its data sheet, and its setups in one class',
  pageOf: '/models/{slug}',
  parts: z.object({ slug: word('Address part of the model') }),
  query: z.object({ class: classKey.optional() }),
  answer: z
    .object({
      slug: slug('the model'),
      name: text('Maker, name and variant'),
      world,
      bodyClass: text('Body'),
      kerbMassKg: z.number().meta({ description: 'kg' }),
      usableCapacityWh: z.number().nullable().meta({ description: 'Of a new battery, Wh' }),
      dragAreaM2: z.number().nullable().meta({ description: 'Drag coefficient times frontal area, m²' }),
      hasHeatPump: z.boolean(),
      classes: z.array(cruiseClass),
      cruiseClass: text('Key of the class of the estimates').nullable(),
      fittedAt: z.string().nullable().meta({ description: 'When the class was fitted' }),
      baseline: slug('the setup as delivered').nullable(),
      setups: z.array(setupOfModel),
      changes: z.array(
        z
          .object({
            setup: slug('the setup'),
            factor: text('The one factor in which it differs from the baseline'),
            fromLevel: text('Level of the baseline'),
            toLevel: text('Level of the setup'),
            difference,
          })
          .meta({ id: 'Change' }),
      ),
    })
    .meta({ id: 'Model' }),
  list: 'setups',
  read: async (registry, { path, query }) => {
    const found = await readModel(registry, path.slug, { classKey: query.class });
    if (found === undefined) return undefined;
    const { dataSheet, baseline, setups, changes, fittedAt } = found;
    return {
      ...dataSheet,
      slug: found.slug,
      name: found.name,
      world: found.world,
      classes: found.classes,
      cruiseClass: found.classKey ?? null,
      fittedAt: fittedAt?.toISOString() ?? null,
      baseline: baseline?.slug ?? null,
      setups: setups.map((setup) => ({ ...setup, estimate: setup.estimate ?? null })),
      changes: changes.map(({ setup, factor, from, to, ...numbers }) => ({
        setup: setup.slug,
        factor,
        fromLevel: from.label,
        toLevel: to.label,
        difference: numbers,
      })),
    };
  },
});
