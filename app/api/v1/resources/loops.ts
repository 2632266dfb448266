import { z } from 'zod';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { resource, word } from '../resource';
import { count, cursor, page, pageOf, slug, text, world } from '../shapes';

const metres = (description: string) => z.number().meta({ description: `${description}, m` });

const listed = z
  .object({
    slug: slug('the loop'),
    name: text('Name'),
    region: text('Where, roughly'),
    turnaround: text('Where it turns'),
    lengthM: metres('Length out and back'),
    lengthUncertaintyM: metres('Standard uncertainty of the length'),
    altitudeM: metres('Mean altitude'),
    postedLimitMps: z.number().meta({ description: 'Posted limit, m/s' }),
    offCruiseShare: z.number().meta({ description: 'Share of the way below cruise speed, 0 to 1' }),
    runs: count('Runs that count'),
    world,
  })
  .meta({ id: 'ListedLoop' });

export const loops = resource({
  path: '/loops',
  id: 'listLoops',
  summary: 'Loops by name',
  pageOf: '/loops',
  query: z.object({ find: word('Part of a name').optional(), from: cursor.optional() }),
  answer: pageOf(listed),
  list: 'items',
  read: async (registry, { query }) =>
    page(await readLoops(registry, { text: query.find, from: query.from }), ({ approvedRuns, ...loop }) => ({
      ...loop,
      runs: approvedRuns,
    })),
});

export const loop = resource({
  path: '/loops/{slug}',
  id: 'getLoop',
  summary: 'A loop: its route, heights and directions',
  pageOf: '/loops/{slug}',
  parts: z.object({ slug: word('Address part of the loop') }),
  answer: listed
    .omit({ runs: true })
    .extend({
      description: text('In its tester’s words'),
      lengthSource: text('How the length is known'),
      netClimbM: metres('Net climb over the whole loop'),
      grossClimbM: metres('All climbs added').nullable(),
      closureDistanceM: metres('From the end back to the start'),
      closureHeightM: metres('Height of the end over the start'),
      legs: z.array(
        z
          .object({
            direction: text('out or back'),
            lengthM: metres('Length'),
            netClimbM: metres('Net climb'),
            mainBearingDeg: z.number().nullable().meta({ description: 'From true north, degrees' }),
          })
          .meta({ id: 'Leg' }),
      ),
      bearings: z.array(
        z
          .object({
            bearingDeg: z.number().meta({ description: 'From true north, degrees' }),
            share: z.number().meta({ description: 'Share of the road that goes so, 0 to 1' }),
          })
          .meta({ id: 'Bearing' }),
      ),
      classes: z.array(z.object({ label: text('Cruise class'), runs: count('Runs that count') })),
    })
    .meta({ id: 'Loop' }),
  list: 'bearings',
  read: (registry, { path }) => readLoop(registry, path.slug),
});
