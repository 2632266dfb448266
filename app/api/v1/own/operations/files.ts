import { z } from 'zod';
import { COLUMN_ROWS, TRACE_LIMIT_TEXT } from '@/app/(tester)/record/[runId]/trace/traceFields';
import { PHOTO_LIMIT_BYTES, PHOTO_LIMIT_TEXT, PHOTO_TYPES } from '@/app/(tester)/record/photoLimit';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { addEvidence, removeEvidence } from '@/lib/registry/runs/addEvidence';
import { photosOf } from '@/lib/registry/runs/recordForm';
import { attachTrace, removeTrace } from '@/lib/registry/traces/attachTrace';
import { draftTrace } from '@/lib/registry/traces/draftTrace';
import { NotFound } from '@/lib/run/errors';
import { PHOTO_FIELDS } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { word } from '../../resource';
import { count, text } from '../../shapes';
import { operation } from '../operation';
import { photo } from '../ownShapes';

const number = (description: string) => z.number().meta({ description });

/** A CSV whose columns are not told by their heads says them, as the recording's page does. */
const columns = Object.fromEntries(
  COLUMN_ROWS.flatMap(({ column, label, choice }) => [
    [column, word(`Column of a CSV, by its head or its number: ${label}`).optional()],
    ...(choice === undefined
      ? []
      : [
          [
            choice.column,
            word(`${choice.label}: ${choice.options.map(({ value }) => value).join(', ')}`).optional(),
          ],
        ]),
  ]),
);

const recording = z
  .object({
    fileName: text('As it was called'),
    format: text('gpx, csv or geojson'),
    pointsRead: count('Points in the file'),
    pointsUsed: count('Points of the drive'),
    distanceM: number('Distance, m'),
    durationS: number('Duration, s'),
    notes: z.array(z.string()).meta({ description: 'What is to be known of the file' }),
    offers: z.record(z.string(), z.string()).meta({
      description: 'Fields that it knows and that are empty in the draft, ready to be sent as changes',
    }),
  })
  .meta({ id: 'Recording' });

export const putRecording = operation({
  method: 'PUT',
  path: '/own/runs/{id}/recording',
  id: 'putRecording',
  summary: 'Puts a recording to a draft, in place of the one before',
  scope: 'files:write',
  query: z.object({ name: word('What the file is called', 'drive.gpx').optional(), ...columns }),
  file: {
    types: ['application/gpx+xml', 'text/csv', 'application/geo+json', 'application/octet-stream'],
    mostBytes: traceLimits.maxBytes,
    tooLarge: `The recording is larger than ${TRACE_LIMIT_TEXT}. Send the part with the run.`,
  },
  answer: recording,
  act: async (registry, { actor, path, query: { name, ...named }, bytes }) => {
    const runId = path.id ?? '';
    const given = Object.fromEntries(
      Object.entries(named).flatMap(([column, value]) =>
        value === undefined ? [] : [[column, String(value)]],
      ),
    );
    const { wasThere } = await attachTrace(registry, actor, {
      runId,
      bytes,
      named: given,
      ...(name === undefined ? {} : { fileName: name }),
    });
    const { trace } = await draftTrace(registry, actor, runId);
    if (trace === null) throw new NotFound('The recording was taken off a moment ago.');
    const offers = trace.offers.filter(({ isSuggested }) => isSuggested);
    return {
      status: wasThere ? 200 : 201,
      value: {
        fileName: trace.fileName,
        format: trace.format,
        pointsRead: trace.pointsRead,
        pointsUsed: trace.pointsUsed,
        distanceM: trace.distanceM,
        durationS: trace.durationS,
        notes: trace.notes,
        offers: Object.fromEntries(
          offers.flatMap(({ name: field, text: value, unit }) => [
            [field, value],
            ...(unit === null ? [] : [[unitFieldName(field), unit]]),
          ]),
        ),
      },
    };
  },
});

const gone = z.object({ isGone: z.boolean().meta({ description: 'It is on the draft no more' }) });

export const deleteRecording = operation({
  method: 'DELETE',
  path: '/own/runs/{id}/recording',
  id: 'deleteRecording',
  summary: 'Takes the recording off a draft',
  scope: 'files:write',
  answer: gone,
  act: async (registry, { actor, path }) => {
    await removeTrace(registry, actor, { runId: path.id });
    return { value: { isGone: true } };
  },
});

const kinds = PHOTO_FIELDS.map(({ value }) => value) as [string, ...string[]];

export const addPhoto = operation({
  method: 'POST',
  path: '/own/runs/{id}/photos',
  id: 'addPhoto',
  summary: 'Puts a photo to a draft; it loses its place and other hidden data',
  scope: 'files:write',
  query: z.object({
    kind: z.enum(kinds).meta({
      description: `What it shows: ${PHOTO_FIELDS.map(({ value, label }) => `${value} (${label})`).join(', ')}`,
    }),
    keepCaptureTime: z
      .enum(['yes', 'no'])
      .optional()
      .meta({ description: '“yes” keeps when it was taken, as a field of its own' }),
  }),
  file: {
    types: PHOTO_TYPES.split(','),
    mostBytes: PHOTO_LIMIT_BYTES,
    tooLarge: `The photo is larger than ${PHOTO_LIMIT_TEXT}. Send a smaller version of it.`,
  },
  status: 201,
  answer: z.object({
    id: z.uuid().meta({ description: 'Id of the photo' }),
    photos: z.array(photo).meta({ description: 'All photos of the draft' }),
  }),
  act: async (registry, { actor, path, query: { kind, keepCaptureTime }, bytes }) => {
    const runId = path.id ?? '';
    const { evidenceId } = await addEvidence(registry, actor, {
      runId,
      kind,
      bytes,
      keepCaptureTime: keepCaptureTime === 'yes',
    });
    const photos = await photosOf(registry, actor, runId);
    return {
      value: {
        id: evidenceId,
        photos: photos.map(({ id, kind: of, widthPx, heightPx }) => ({ id, kind: of, widthPx, heightPx })),
      },
    };
  },
});

export const deletePhoto = operation({
  method: 'DELETE',
  path: '/own/runs/{id}/photos/{photo}',
  id: 'deletePhoto',
  summary: 'Takes a photo off a draft',
  scope: 'files:write',
  answer: gone,
  act: async (registry, { actor, path }) => {
    await removeEvidence(registry, actor, { runId: path.id, evidenceId: path.photo });
    return { value: { isGone: true } };
  },
});
