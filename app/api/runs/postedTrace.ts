import { NAMED_COLUMN_FIELDS, TRACE_LIMIT_TEXT } from '@/app/(tester)/record/[runId]/trace/traceFields';
import { traceLimits } from '@/lib/capture/trace/tracePoint';
import { InvalidInput } from '@/lib/run/errors';
import { boundedBody } from './boundedBody';

/** One recording of the largest kind, the fields beside it and what multipart puts around them. */
const MOST_BYTES = traceLimits.maxBytes + 1024 * 1024;

/** The recording of a posted form, and what it says of a CSV's columns. */
export async function postedTrace(request: Request) {
  const what = `The recording is larger than ${TRACE_LIMIT_TEXT}. Send the part with the run.`;
  const body = await boundedBody(request, MOST_BYTES, what);
  const headers = { 'Content-Type': request.headers.get('content-type') ?? '' };
  const data = await new Response(body, { headers }).formData().catch(() => undefined);
  const file = data?.get('trace');
  if (data === undefined || !(file instanceof File) || file.size === 0) throw noFile();
  const named = Object.fromEntries(
    NAMED_COLUMN_FIELDS.flatMap(({ field, column }) => {
      const value = data.get(field);
      return typeof value === 'string' && value.trim() !== '' ? [[column, value.slice(0, 200)]] : [];
    }),
  );
  return { fileName: file.name, bytes: new Uint8Array(await file.arrayBuffer()), named };
}

function noFile(): InvalidInput {
  return new InvalidInput([
    {
      path: 'trace',
      what: 'No recording was chosen.',
      why: 'There is nothing to read.',
      fix: 'Choose a GPX, CSV or GeoJSON file.',
    },
  ]);
}
