import { describe, expect, it } from 'vitest';
import { sendDraft } from '@/app/(tester)/record/[runId]/sendDraft';
import { sendPhoto } from '@/app/(tester)/record/[runId]/sendPhoto';
import { PHOTO_LIMIT_BYTES } from '@/app/(tester)/record/photoLimit';
import { imageLimits } from '@/lib/files/image';

const answering =
  (status: number, body: unknown): typeof fetch =>
  async () =>
    new Response(JSON.stringify(body), { status });

describe('sending a draft', () => {
  it('names the version that was seen', async () => {
    const sent: unknown[] = [];
    const event = await sendDraft('r1', 7, { notes: 'x' }, async (address, init) => {
      sent.push(address, init?.method, JSON.parse(String(init?.body)));
      return Response.json({ draftVersion: 8 });
    });
    expect(event).toEqual({ kind: 'saved', version: 8 });
    expect(sent).toEqual(['/api/runs/r1/draft', 'PUT', { draftVersion: 7, form: { notes: 'x' } }]);
  });

  it.each([
    [409, { title: 'Changed elsewhere.' }, { kind: 'conflict', message: 'Changed elsewhere.' }],
    [401, { title: 'Sign in first.' }, { kind: 'refused', message: 'Sign in first.' }],
    [422, {}, { kind: 'refused', message: 'The server refused it.' }],
    [503, {}, { kind: 'unreachable' }],
    [200, 'a page of some portal', { kind: 'unreachable' }],
  ])('understands %i', async (status, body, expected) => {
    expect(await sendDraft('r1', 7, {}, answering(status, body))).toEqual(expected);
  });

  it('takes a broken line for an unreachable server', async () => {
    const broken: typeof fetch = async () => {
      throw new TypeError('network');
    };
    expect(await sendDraft('r1', 7, {}, broken)).toEqual({ kind: 'unreachable' });
  });
});

describe('sending a photo', () => {
  const photo = (file: File) => ({ kind: 'startDisplay', file, keepCaptureTime: false });
  const small = new File(['x'], 'x.jpg');

  it('does not send what is larger than the image room takes', async () => {
    expect(PHOTO_LIMIT_BYTES).toBe(imageLimits.maxBytes);
    const large = new File([new Uint8Array(PHOTO_LIMIT_BYTES + 1)], 'large.jpg');
    let isSent = false;
    const answer = await sendPhoto('r1', photo(large), async () => {
      isSent = true;
      return Response.json({ photos: [] });
    });
    expect(isSent).toBe(false);
    expect(answer).toMatchObject({ ok: false, error: { what: 'The photo has 21 MB.' } });
  });

  it('passes the first issue on, or the title where there is none', async () => {
    const issue = {
      path: 'evidence.startDisplay',
      what: 'Not a photo.',
      why: 'Text.',
      fix: 'Choose another.',
    };
    expect(await sendPhoto('r1', photo(small), answering(422, { title: 'One', issues: [issue] }))).toEqual({
      ok: false,
      error: { what: 'Not a photo.', why: 'Text.', fix: 'Choose another.' },
    });
    expect(await sendPhoto('r1', photo(small), answering(413, { title: 'Too large.' }))).toEqual({
      ok: false,
      error: { what: 'Too large.' },
    });
  });

  it('sends consent only when it was given', async () => {
    const consents: (string | File | null)[] = [];
    const send: typeof fetch = async (_address, init) => {
      if (init?.body instanceof FormData) consents.push(init.body.get('keepCaptureTime'));
      return Response.json({ photos: [] });
    };
    await sendPhoto('r1', photo(small), send);
    await sendPhoto('r1', { ...photo(small), keepCaptureTime: true }, send);
    expect(consents).toEqual([null, 'yes']);
  });
});
