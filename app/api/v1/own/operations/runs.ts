import { z } from 'zod';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { ownChoices, readOwnRun } from '@/lib/registry/runs/ownRuns';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { count, cursor, page, pageOf, text, world } from '../../shapes';
import { operation } from '../operation';
import { found, photo, ruled, status } from '../ownShapes';
import { seenDraft } from './drafts';

const uuid = (description: string) => z.uuid().meta({ description });

export const choices = operation({
  method: 'GET',
  path: '/own/choices',
  id: 'getChoices',
  summary: 'Your cars with their setups, and loops, with the ids that a draft names them by',
  scope: 'runs:read',
  answer: z.object({
    cars: z.array(
      z.object({
        id: uuid('carId of a draft'),
        name: text('Your name of it'),
        model: text('Maker, name, year and variant'),
        setups: z.array(z.object({ id: uuid('setupId of a draft'), title: text('Its levels') })),
      }),
    ),
    loops: z.array(
      z.object({
        id: uuid('loopId of a draft'),
        name: text('Name'),
        region: text('Region'),
        cruiseClassKeys: z.array(z.string()).meta({ description: 'Classes within its posted limit' }),
      }),
    ),
    hasMoreLoops: z.boolean().meta({ description: 'Whether there are loops beyond these' }),
    cruiseClasses: z.array(z.object({ key: text('cruiseClassKey of a draft'), label: text('Label') })),
  }),
  act: async (registry, { actor }) => {
    const { cars, loops, hasMoreLoops } = await ownChoices(registry, actor);
    return {
      value: {
        cars: cars.map(({ id, name, model, setups }) => ({ id, name, model, setups })),
        loops: loops.map(({ id, name, region, cruiseClassKeys }) => ({ id, name, region, cruiseClassKeys })),
        hasMoreLoops,
        cruiseClasses: CRUISE_CLASSES.map(({ key, label }) => ({ key, label })),
      },
    };
  },
});

const listed = z
  .object({
    id: uuid('Id of the run'),
    number: count('Number of the run'),
    status,
    what: text('Car, setup, loop and class, as far as chosen'),
    day: text('Day of the drive, where it is known'),
    savedAt: text('When it was saved last'),
    note: text('What the reviewer said, where changes are asked or it was rejected'),
  })
  .meta({ id: 'OwnListedRun' });

export const ownRuns = operation({
  method: 'GET',
  path: '/own/runs',
  id: 'listOwnRuns',
  summary: 'Your own runs in one state, those saved last first',
  scope: 'runs:read',
  query: z.object({ state: status.default('draft'), from: cursor.optional() }),
  answer: pageOf(listed),
  act: async (registry, { actor, query: { state, from } }) => {
    const { counts, pages } = await myRuns(registry, actor, { statuses: [state], from });
    const { rows = [], next, previous } = pages[0]?.page ?? {};
    return {
      value: page(
        { rows, next, previous, total: counts.get(state) ?? 0 },
        ({ runId, number, status: of, what, date, savedAt, note }) => ({
          id: runId,
          number,
          status: of,
          what,
          day: date,
          savedAt,
          note,
        }),
      ),
    };
  },
});

export const ownRun = operation({
  method: 'GET',
  path: '/own/runs/{id}',
  id: 'getOwnRun',
  summary: 'Where a run of yours stands: files, what the rules found, what the reviewer said',
  scope: 'runs:read',
  answer: z
    .object({
      id: uuid('Id of the run'),
      number: count('Number of the run'),
      status,
      isEditable: z.boolean().meta({ description: 'Whether its draft can be changed and sent' }),
      draftVersion: count('Version of its draft'),
      world,
      savedAt: text('When its draft was saved last'),
      submittedAt: text('When it was sent last').nullable(),
      photos: z.array(photo),
      recording: z
        .object({
          fileName: text('As it was called'),
          format: text('gpx, csv or geojson'),
          pointsRead: count('Points in the file'),
          pointsUsed: count('Points of the drive'),
        })
        .nullable(),
      sent: z
        .object({
          revision: count('Revision that was sent last'),
          protocolVersion: text('Version of the protocol that it was judged by'),
          findings: z.array(found),
        })
        .nullable(),
      review: z
        .object({
          note: text('What the reviewer said'),
          decidedAt: text('When'),
          reasons: z.array(z.object({ ...ruled, text: text('Why') })),
        })
        .nullable()
        .meta({ description: 'Where changes are asked or it was rejected' }),
    })
    .meta({ id: 'OwnRun' }),
  act: async (registry, { actor, path }) => {
    const { runId, submittedAt, recording, sent, review, ...run } = await readOwnRun(
      registry,
      actor,
      path.id ?? '',
    );
    return {
      value: {
        ...run,
        id: runId,
        submittedAt: submittedAt ?? null,
        recording: recording ?? null,
        sent: sent ? { ...sent, findings: sent.findings.map(withField) } : null,
        review: review ? { ...review, reasons: review.reasons.map(withField) } : null,
      },
    };
  },
});

function withField<Of extends { field: string | undefined }>(of: Of) {
  return { ...of, field: of.field ?? null };
}

export const submit = operation({
  method: 'POST',
  path: '/own/runs/{id}/submission',
  id: 'submitRun',
  summary: 'Sends a draft in',
  scope: 'runs:submit',
  body: z.strictObject({
    failing: z
      .enum(['draft', 'send'], {
        error:
          'This is neither “draft” nor “send”. | It says what becomes of a run that fails a rule. | Send one of the two.',
      })
      .default('draft')
      .meta({
        description:
          'What becomes of it where a rule fails: “draft” leaves it a draft and says which (409), “send” sends it all the same',
      }),
  }),
  isOfVersion: true,
  status: 201,
  answer: z.object({
    number: count('Number of the run'),
    revision: count('Revision that waits for a reviewer'),
    findings: z.array(found),
  }),
  act: async (registry, { actor, path, version, body: { failing } }) => {
    const runId = path.id ?? '';
    const draftVersion =
      version === 'any' ? (await seenDraft(registry, actor, runId, version)).draftVersion : version;
    const { runNumber, revisionNumber } = await submitRun(registry, actor, {
      runId,
      draftVersion,
      unlessFails: failing === 'draft',
    });
    const { sent } = await readOwnRun(registry, actor, runId);
    return {
      value: {
        number: runNumber,
        revision: revisionNumber,
        findings: (sent?.findings ?? []).map(withField),
      },
      location: `/own/runs/${runId}`,
    };
  },
});
