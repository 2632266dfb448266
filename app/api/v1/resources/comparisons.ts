import { z } from 'zod';
import { MOST_COMPARED, readComparison } from '@/lib/registry/comparisons/compare';
import { WANTED } from '@/lib/registry/factors/factors';
import { resource, word } from '../resource';
import { classKey, count, difference, estimate, slug, text, whPerKm, world, worldAsked } from '../shapes';

const compared = estimate
  .omit({ isRanked: true })
  .extend({ slug: slug('the setup'), name: text('Title, with the model where there are several') })
  .meta({ id: 'ComparedSetup' });

export const comparisons = resource({
  path: '/comparisons',
  id: 'compareSetups',
  summary: 'Setups of one class against the first of them',
  pageOf: '/compare',
  query: z.object({
    setups: word(
      `Address parts of two to ${MOST_COMPARED} setups, between commas; the first is the baseline`,
    ),
    class: classKey.optional(),
    world: worldAsked.optional(),
  }),
  answer: z
    .object({
      cruiseClass: text('Key of the class'),
      world,
      fittedAt: z.string().nullable().meta({ description: 'When it was fitted' }),
      runCount: count('Runs in the fit').nullable(),
      pairsAtOnce: count('Pairs that the simultaneous intervals hold for').nullable(),
      baseline: compared.nullable(),
      differences: z.array(
        difference
          .extend({
            setup: slug('the setup'),
            estimateWhPerKm: whPerKm('Its estimate'),
            rawPercent: z.number().meta({ description: 'What plain means as measured would have said, %' }),
          })
          .meta({ id: 'DifferenceOfSetup' }),
      ),
      unknown: z.array(z.string()).meta({ description: 'Asked for, but without a run in this class' }),
    })
    .meta({ id: 'Comparison' }),
  list: 'differences',
  read: async (registry, { query }) => {
    const found = await readComparison(registry, {
      classKey: query.class,
      world: query.world,
      setupSlugs: query.setups.split(',').map((one) => one.trim()),
      wanted: WANTED,
    });
    if (found === undefined) return undefined;
    return {
      cruiseClass: found.group.cruiseClassKey,
      world: found.group.world,
      fittedAt: found.fit?.fittedAt.toISOString() ?? null,
      runCount: found.fit?.runCount ?? null,
      pairsAtOnce: found.fit?.pairsAtOnce ?? null,
      baseline: found.baseline ?? null,
      differences: found.differences.map(({ setup, ...numbers }) => ({
        ...numbers,
        setup: setup.slug,
        estimateWhPerKm: setup.estimateWhPerKm,
      })),
      unknown: found.unknownSlugs,
    };
  },
});
