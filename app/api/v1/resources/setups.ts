import { z } from 'zod';
import { readModelSetups } from '@/lib/registry/models/modelSetups';
import { readSetup } from '@/lib/registry/setups/setup';
import { resource, word } from '../resource';
import { count, difference, estimate, level, slug, text, world } from '../shapes';

export const setups = resource({
  path: '/setups',
  id: 'listSetups',
  summary: 'The setups of a model',
  pageOf: '/models/{model}',
  query: z.object({ model: word('Address part of the model') }),
  answer: z.object({
    items: z.array(
      z.object({
        slug: slug('the setup'),
        title: text('Title'),
        levels: z.array(level),
        runs: count('Runs that count, in all classes'),
        isBaseline: z.boolean().meta({ description: 'As delivered' }),
      }),
    ),
  }),
  list: 'items',
  read: async (registry, { query }) => {
    const found = await readModelSetups(registry, query.model);
    return (
      found && {
        items: found.setups.map((setup) => ({
          ...setup,
          isBaseline: setup.setupId === found.baseline?.setupId,
        })),
      }
    );
  },
});

export const setup = resource({
  path: '/setups/{slug}',
  id: 'getSetup',
  summary: 'A setup: its levels and its estimate in every class',
  pageOf: '/setups/{slug}',
  parts: z.object({ slug: word('Address part of the setup') }),
  query: z.object({ class: word('Class of `againstBaseline`', 'kmh-110').optional() }),
  answer: z
    .object({
      slug: slug('the setup'),
      title: text('Title'),
      world,
      model: slug('the model'),
      levels: z.array(level),
      isBaseline: z.boolean().meta({ description: 'As delivered' }),
      estimates: z.array(
        estimate
          .extend({
            cruiseClass: text('Key of the class'),
            rankLower: z.int().nullable().meta({ description: 'Least rank that the intervals leave open' }),
            rankUpper: z.int().nullable().meta({ description: 'Greatest rank that they leave open' }),
            rankedOf: count('Setups with a place in the class'),
            fittedAt: z.string().meta({ description: 'When the class was fitted' }),
          })
          .meta({ id: 'EstimateOfClass' }),
      ),
      againstBaseline: difference.nullable(),
    })
    .meta({ id: 'Setup' }),
  list: 'estimates',
  read: async (registry, { path, query }) => {
    const found = await readSetup(registry, path.slug, { classKey: query.class });
    if (found === undefined) return undefined;
    return {
      slug: found.slug,
      title: found.title,
      world: found.world,
      model: found.modelSlug,
      levels: found.levels,
      isBaseline: found.isBaseline,
      estimates: found.estimates.map(({ classKey, fittedAt, ...numbers }) => ({
        ...numbers,
        cruiseClass: classKey,
        fittedAt: fittedAt.toISOString(),
      })),
      againstBaseline: found.againstBaseline ?? null,
    };
  },
});
