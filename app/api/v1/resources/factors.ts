import { z } from 'zod';
import type { FactorEffect, ModelAnswer } from '@/lib/registry/factors/effects';
import { readFactor, readFactors } from '@/lib/registry/factors/factors';
import { resource, word } from '../resource';
import { classKey, count, difference, interval, slug, text, whPerKm, world, worldAsked } from '../shapes';

const ofModel = difference
  .extend({
    model: slug('the model'),
    baseline: slug('the setup that it is held against'),
    setup: slug('the setup'),
    baselineWhPerKm: whPerKm('Estimate of the baseline'),
  })
  .meta({ id: 'EffectInModel' });

const effect = z
  .object({
    level: text('Shared level'),
    baseline: text('Shared level that it is held against'),
    models: z.array(ofModel),
    of: count('Models that have such a pair'),
    pooled: difference
      .extend({
        models: count('Models pooled'),
        further: interval('one more model, %').nullable(),
      })
      .meta({ id: 'PooledEffect' })
      .nullable(),
  })
  .meta({ id: 'FactorEffect' });

const head = { cruiseClass: text('Key of the class'), world, fittedAt: z.string().nullable() };
const asked = z.object({ class: classKey.optional(), world: worldAsked.optional() });

const modelAnswer = ({ modelSlug, baseline, setup, ...numbers }: ModelAnswer) => ({
  ...numbers,
  model: modelSlug,
  baseline: baseline.slug,
  setup: setup.slug,
});
const effectOf = ({ models, ...rest }: FactorEffect) => ({ ...rest, models: models.map(modelAnswer) });

export const factors = resource({
  path: '/factors',
  id: 'listFactors',
  summary: 'What each factor does in one class, as far as it can be said',
  pageOf: '/factors',
  query: asked,
  answer: z
    .object({
      ...head,
      factors: z.array(
        z.object({ key: text('Key'), label: text('Name'), effects: z.array(effect) }).meta({ id: 'Factor' }),
      ),
    })
    .meta({ id: 'Factors' }),
  read: async (registry, { query }) => {
    const found = await readFactors(registry, { classKey: query.class, world: query.world });
    return (
      found && {
        cruiseClass: found.group.cruiseClassKey,
        world: found.group.world,
        fittedAt: found.fit?.fittedAt.toISOString() ?? null,
        factors: found.factors.map(({ key, label, effects }) => ({
          key,
          label,
          effects: effects.map(effectOf),
        })),
      }
    );
  },
});

export const factor = resource({
  path: '/factors/{key}',
  id: 'getFactor',
  summary: 'One factor in one class, model by model',
  pageOf: '/factors/{key}',
  parts: z.object({ key: word('Key of the factor', 'rideHeight') }),
  query: asked,
  answer: z
    .object({
      ...head,
      key: text('Key'),
      label: text('Name'),
      effects: z.array(effect),
      singly: z.array(ofModel).meta({ description: 'What single models say where none can be pooled' }),
    })
    .meta({ id: 'FactorOfClass' }),
  list: 'singly',
  read: async (registry, { path, query }) => {
    const found = await readFactor(registry, path.key, { classKey: query.class, world: query.world });
    return (
      found && {
        cruiseClass: found.group.cruiseClassKey,
        world: found.group.world,
        fittedAt: found.fit?.fittedAt.toISOString() ?? null,
        key: found.key,
        label: found.label,
        effects: found.effects.map(effectOf),
        singly: found.singly.map(modelAnswer),
      }
    );
  },
});
