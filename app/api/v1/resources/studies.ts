import { z } from 'zod';
import { readStudies } from '@/lib/registry/studies/studies';
import { readStudy } from '@/lib/registry/studies/study';
import type { PairBound } from '@/lib/stats/monitoring';
import { percentEnds, percentOf } from '@/lib/stats/orientedContrast';
import { STUDY_STATES } from '@/lib/study/studyState';
import { resource, word } from '../resource';
import { count, cursor, day, interval, named, slug, text, world, worldAsked } from '../shapes';

const state = z.enum(STUDY_STATES);

export const studies = resource({
  path: '/studies',
  id: 'listStudies',
  summary: 'Studies in one state, the newest first',
  pageOf: '/studies',
  query: z.object({
    state: word('State; without it the first that has any', 'running').optional(),
    world: worldAsked.optional(),
    from: cursor.optional(),
  }),
  answer: z
    .object({
      world,
      state,
      items: z.array(
        z
          .object({
            slug: slug('the study'),
            question: text('As asked'),
            state,
            model: text('Model'),
            cruiseClass: text('Label of the class'),
            by: named('whoever runs it'),
            at: z.string().meta({ description: 'When it came to its state' }),
            runs: count('Runs so far'),
            plannedRuns: count('Runs planned').nullable(),
          })
          .meta({ id: 'ListedStudy' }),
      ),
      next: text('Cursor of the next page, for `from`').nullable(),
      previous: text('Cursor of the page before, for `from`').nullable(),
    })
    .meta({ id: 'Studies' }),
  list: 'items',
  read: async (registry, { query }) => {
    const found = await readStudies(registry, query);
    return {
      world: found.world,
      state: found.state,
      items: found.rows.map(({ by, at, classLabel, planned, ...study }) => ({
        ...study,
        cruiseClass: classLabel,
        by: { slug: by.slug, name: by.displayName },
        at: at.toISOString(),
        plannedRuns: planned?.runs ?? null,
      })),
      next: found.next ?? null,
      previous: found.previous ?? null,
    };
  },
});

const bound = z
  .object({
    percent: z.number().meta({ description: 'Difference, % of the baseline’s' }),
    interval: interval('it, %').nullable(),
  })
  .meta({ id: 'Bound' });

const boundOf = (of: PairBound | null) =>
  of && { percent: percentOf(of.difference), interval: percentEnds(of.interval) };

export const study = resource({
  path: '/studies/{slug}',
  id: 'getStudy',
  summary: 'A study: its plan, its runs, and where it stands',
  pageOf: '/studies/{slug}',
  parts: z.object({ slug: word('Address part of the study') }),
  answer: z
    .object({
      slug: slug('the study'),
      question: text('As asked'),
      state,
      world,
      model: slug('the model'),
      loop: slug('the loop'),
      cruiseClass: text('Label of the class'),
      setups: z.array(named('a setup; the first is the baseline')),
      plannedDays: z
        .array(z.array(z.string()))
        .nullable()
        .meta({ description: 'The setups of each day in the order in which they are to be driven' }),
      runs: z.array(
        z
          .object({
            number: count('Number of the run'),
            day: day('Day of the drive'),
            setup: slug('its setup'),
            tester: slug('its tester'),
            standing: text('counts, approved, waiting or does not count'),
            whPerKm: z
              .number()
              .nullable()
              .meta({ description: 'Normalised, Wh/km; null where it does not count' }),
          })
          .meta({ id: 'StudyRun' }),
      ),
      which: text('running: holds however often one looks; planned: was to be read once').nullable(),
      contrasts: z.array(
        z
          .object({
            setup: slug('the setup, against the baseline'),
            sessions: count('Sessions with both'),
            runs: count('Runs of both'),
            shown: bound.nullable(),
            running: bound.nullable(),
            planned: bound.nullable(),
          })
          .meta({ id: 'StudyContrast' }),
      ),
    })
    .meta({ id: 'Study' }),
  list: 'runs',
  read: async (registry, { path }) => {
    const found = await readStudy(registry, undefined, path.slug);
    if (found === undefined) return undefined;
    const slugOf = new Map(found.setups.map((setup) => [setup.id, setup.slug]));
    const setupSlug = (id: string) => slugOf.get(id) ?? '';
    return {
      slug: found.slug,
      question: found.question,
      state: found.state,
      world: found.world,
      model: found.model.slug,
      loop: found.loop.slug,
      cruiseClass: found.classLabel,
      setups: found.setups.map(({ slug: part, title }) => ({ slug: part, name: title })),
      plannedDays: found.plan?.days.map((one) => one.map(setupSlug)) ?? null,
      runs: found.sessions.flatMap(({ runs }) =>
        runs
          .filter((driven) => driven.run.isPublic)
          .map(({ run: { number, day, setupId, tester, standing, whPerKm } }) => ({
            number,
            day,
            setup: setupSlug(setupId),
            tester: tester.slug,
            standing,
            whPerKm,
          })),
      ),
      which: found.standing?.which ?? null,
      contrasts: (found.standing?.contrasts ?? []).map((contrast) => ({
        setup: setupSlug(contrast.setupId),
        sessions: contrast.sessions,
        runs: contrast.runs,
        shown: boundOf(contrast.shown),
        running: boundOf(contrast.running),
        planned: boundOf(contrast.planned),
      })),
    };
  },
});
