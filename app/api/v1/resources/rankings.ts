import { z } from 'zod';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { resource, word } from '../resource';
import {
  classKey,
  count,
  cruiseClass,
  cursor,
  difference,
  estimate,
  slug,
  text,
  world,
  worldAsked,
} from '../shapes';

const ranked = estimate
  .extend({
    slug: slug('the setup'),
    title: text('Title of the setup'),
    model: slug('its model'),
    bodyClass: text('Body'),
    rankLower: z.int().nullable().meta({ description: 'Least rank that the intervals leave open' }),
    rankUpper: z.int().nullable().meta({ description: 'Greatest rank that they leave open' }),
    chanceOfLowest: z
      .number()
      .nullable()
      .meta({ description: 'Chance, 0 to 1, of being the lowest of those that may be compared' }),
    against: difference.nullable(),
  })
  .meta({ id: 'RankedSetup' });

export const rankings = resource({
  path: '/rankings',
  id: 'getRankings',
  summary: 'The setups of a class, the lowest consumption first',
  pageOf: '/rankings',
  query: z.object({
    class: classKey.optional(),
    world: worldAsked.optional(),
    model: word('Address part of a model').optional(),
    body: word('Body').optional(),
    tyres: word('Kind of tyres').optional(),
    level: word('“factor:level”').optional(),
    from: cursor.optional(),
  }),
  answer: z
    .object({
      cruiseClass: text('Key of the class'),
      speedMps: z.number().meta({ description: 'True cruise speed of the class, m/s' }),
      world,
      classes: z.array(cruiseClass),
      fittedAt: z.string().meta({ description: 'When it was fitted' }),
      methodVersion: text('Version of the method'),
      runCount: count('Runs in the fit'),
      converged: z.boolean(),
      faults: z
        .array(z.string())
        .nullable()
        .meta({ description: 'What speaks against its intervals; null: not known' }),
      notes: z.array(z.string()),
      rankedOf: count('Setups with a place, before filters'),
      ranked: z.array(ranked),
      next: text('Cursor of the next page, for `from`').nullable(),
      previous: text('Cursor of the page before, for `from`').nullable(),
      notRanked: z.array(ranked).meta({ description: 'The first of those without a place' }),
      notRankedOf: count('All of those without a place'),
    })
    .meta({ id: 'Rankings' }),
  list: 'ranked',
  read: async (registry, { query }) => {
    const found = await readRankings(registry, {
      classKey: query.class,
      world: query.world,
      modelSlug: query.model,
      bodyClass: query.body,
      tyreKind: query.tyres,
      level: query.level,
      from: query.from,
    });
    if (found === undefined) return undefined;
    const row = ({ modelSlug, ...setup }: (typeof found.ranked)[number]) => ({ ...setup, model: modelSlug });
    return {
      cruiseClass: found.group.cruiseClassKey,
      speedMps: found.speedMps,
      world: found.group.world,
      classes: found.classes,
      fittedAt: found.fit.fittedAt.toISOString(),
      methodVersion: found.fit.methodVersion,
      runCount: found.fit.runCount,
      converged: found.fit.converged,
      faults: found.fit.faults,
      notes: found.fit.notes,
      rankedOf: found.rankedOf,
      ranked: found.ranked.map(row),
      next: found.pages.next ?? null,
      previous: found.pages.previous ?? null,
      notRanked: found.notRanked.map(row),
      notRankedOf: found.notRankedOf,
    };
  },
});
