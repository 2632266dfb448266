import { Notice, type NoticeKind } from '@/app/ui/Notice';
import { PHOTO_LIMIT_TEXT } from '../photoLimit';

/** Codes that an address may carry after a form was sent without scripts; anything else says nothing. */
const NOTICES: Readonly<Record<string, { kind: NoticeKind; title: string; text?: string }>> = {
  saved: { kind: 'done', title: 'The draft is saved.' },
  fromTrace: { kind: 'done', title: 'The chosen values of the recording are in the form.' },
  fromWeather: { kind: 'done', title: 'The conditions are filled from the station reports.' },
  loopChosen: { kind: 'done', title: 'The loop is in the form.' },
  withdrawn: { kind: 'done', title: 'The run is a draft again.' },
  photos: { kind: 'done', title: 'The draft is saved and the photos are added.' },
  photoTooLarge: {
    kind: 'problem',
    title: `The photos are larger than ${PHOTO_LIMIT_TEXT}.`,
    text: 'Send smaller versions, or one at a time. Nothing of that form was saved: go back in the browser to find it.',
  },
  photoRefused: {
    kind: 'problem',
    title: 'A file is not a photo that can be used.',
    text: 'Choose a JPEG, PNG, WebP or AVIF photo. What was typed is saved.',
  },
  conflict: {
    kind: 'problem',
    title: 'Not saved: this draft was changed elsewhere, or takes no more photos.',
    text: 'This is the saved version. Go back in the browser to find what you typed.',
  },
};

export function PageNotice({ code }: { code: string | string[] | undefined }) {
  const notice = typeof code === 'string' && Object.hasOwn(NOTICES, code) ? NOTICES[code] : undefined;
  if (notice === undefined) return null;
  return (
    <Notice kind={notice.kind} title={notice.title} live outcome={String(code)}>
      {notice.text}
    </Notice>
  );
}
