import { Notice, type NoticeKind } from '@/app/ui/Notice';
import { TRACE_LIMIT_TEXT } from './traceFields';

/** Codes that the address may carry after a form was sent without scripts; anything else says nothing. */
const NOTICES: Readonly<Record<string, { kind: NoticeKind; title: string; text?: string }>> = {
  added: { kind: 'done', title: 'The recording is read and kept with this run.' },
  changed: { kind: 'done', title: 'The recording was worked out anew.' },
  removed: { kind: 'done', title: 'The recording is off this run.' },
  tooLarge: {
    kind: 'problem',
    title: `The recording is larger than ${TRACE_LIMIT_TEXT}, or has too many points.`,
    text: 'Send the part with the run.',
  },
  columns: {
    kind: 'problem',
    title: 'It is not clear which columns of the CSV hold latitude, longitude and time.',
    text: 'Name them under “Columns of a CSV” and choose the file again. They are remembered.',
  },
  unread: {
    kind: 'problem',
    title: 'The file could not be used as a recording of a run.',
    text: 'It must be GPX 1.1, CSV or GeoJSON with a time at every point, and at least a kilometre long.',
  },
  conflict: {
    kind: 'problem',
    title: 'Not done: this run was changed or submitted a moment ago.',
    text: 'This is its present state.',
  },
};

export function TraceNotice({ code }: { code: string | string[] | undefined }) {
  const notice = typeof code === 'string' && Object.hasOwn(NOTICES, code) ? NOTICES[code] : undefined;
  if (notice === undefined) return null;
  return (
    <Notice kind={notice.kind} title={notice.title} live outcome={String(code)}>
      {notice.text}
    </Notice>
  );
}
