import createClient from 'openapi-fetch';
import sharp from 'sharp';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { writeExamples } from '@/app/api/v1/own/examples';
import { OPERATIONS } from '@/app/api/v1/own/operations';
import { ownAnswer } from '@/app/api/v1/own/ownAnswer';
import { ALLOWANCE } from '@/lib/access/allowances';
import { FRESH_MS } from '@/lib/access/fresh';
import { MOST_TOKENS, newToken, SCOPE_KEYS, type TokenScope } from '@/lib/access/personalTokens';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { KEPT_MS, MOST_KEPT, sweepKeptAnswers } from '@/lib/registry/accounts/onlyOnce';
import {
  makePersonalToken,
  readPersonalTokens,
  revokePersonalToken,
} from '@/lib/registry/accounts/personalTokens';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';
import { liftSuspension, suspendAccount } from '@/lib/registry/accounts/suspend';
import { recordRefusal } from '@/lib/registry/audit/recordAct';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';
import { ownDataZip } from '@/lib/registry/privacy/ownDataZip';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { paths } from '@/test/helpers/apiTypes';
import { curlRequest } from '@/test/helpers/curlRequest';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import { recording } from '@/test/helpers/recordings';
import { completeForm } from '@/test/helpers/runForms';
import {
  loopOf,
  person,
  registryOn,
  STRONG_PASSWORD,
  signedInAs,
  somePhoto,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);
const { mail, lastTo } = letterBox();

const BASE = 'https://registry.example/api/v1';
const MINUTE_MS = 60_000;
let strangers = 0;

/** The interface as its route answers. */
async function send(request: Request): Promise<Response> {
  const segments = new URL(request.url).pathname
    .slice('/api/v1/own/'.length)
    .split('/')
    .map(decodeURIComponent);
  return ownAnswer(registry, request, segments, {
    boundStrangers: () => {
      strangers += 1;
    },
    noteRefusal: async (error) => {
      if (error instanceof NotAllowed) await recordRefusal(registry, error);
    },
  });
}

interface Ask {
  token?: string | undefined;
  json?: unknown;
  /** As it stands. */
  body?: BodyInit;
  headers?: Record<string, string>;
}

function ask(method: string, path: string, { token, json, body, headers = {} }: Ask = {}): Promise<Response> {
  const sent = json === undefined ? body : JSON.stringify(json);
  return send(
    new Request(`${BASE}/own${path}`, {
      method,
      headers: {
        ...(token === undefined ? {} : { Authorization: `Bearer ${token}` }),
        ...(json === undefined ? {} : { 'Content-Type': 'application/json' }),
        ...headers,
      },
      ...(sent === undefined ? {} : { body: sent }),
    }),
  );
}

interface Problem {
  status: number;
  title: string;
  errors: { detail: string; pointer?: string; parameter?: string; header?: string }[];
}

/** A refusal, which has a sentence whatever it is about. */
async function problem(answer: Response): Promise<Problem> {
  expect(answer.headers.get('content-type')).toBe('application/problem+json');
  expect(answer.headers.get('cache-control')).toBe('private, no-store');
  const said = await answer.json();
  expect(said.status).toBe(answer.status);
  expect(said.title.length).toBeGreaterThan(10);
  for (const { detail } of said.errors) expect(detail.length).toBeGreaterThan(10);
  return said;
}

let tester: Actor;
let other: Actor;
let steward: Actor;
let token: string;
let strange: string;
let subjects: { carId: string; setupId: string; loopId: string };

async function tokenFor(
  accountId: string,
  scopes: readonly TokenScope[] = SCOPE_KEYS,
  days = 30,
): Promise<string> {
  const actor = await signedInAs(registry, accountId);
  return (await makePersonalToken(registry, mail, actor, { name: 'Logger in the car', scopes, days })).secret;
}

async function begun(fields: Record<string, string> = {}): Promise<{ id: string; etag: string }> {
  const answer = await ask('POST', '/runs', { token, json: { fields } });
  expect(answer.status).toBe(201);
  return { id: (await answer.json()).id, etag: answer.headers.get('etag') ?? '' };
}

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  steward = await person(registry, 'Stella Moor', 'steward');
  const { carId, baselineId } = await vehicleOf(registry, tester);
  subjects = { carId, setupId: baselineId, loopId: await loopOf(registry, tester) };
  token = await tokenFor(tester.accountId);
  strange = await tokenFor(other.accountId);
});

beforeEach(async () => {
  await prisma.tryCount.deleteMany();
});

describe('a run by a program', () => {
  it('is begun, filled, proved, sent in and followed by a client that a generator made', async () => {
    const client = createClient<paths>({
      baseUrl: BASE,
      fetch: send,
      headers: { Authorization: `Bearer ${token}` },
    });
    const { data: choices } = await client.GET('/own/choices', {});
    const car = choices?.cars[0];
    expect(car?.setups.map(({ id }) => id)).toContain(subjects.setupId);

    const first = await client.POST('/own/runs', {
      body: { fields: { carId: car?.id ?? '', tripEnergy: 'thirty' } },
      params: { header: { 'Idempotency-Key': 'whole-run' } },
    });
    const id = first.data?.id ?? '';
    expect(first.response.headers.get('location')).toBe(`/api/v1/own/runs/${id}/draft`);
    expect(first.data?.toDo.map(({ pointer }) => pointer)).toEqual(
      expect.arrayContaining(['#/fields/tripEnergy', '#/fields/loopId', '#/fields/startedAtLocal']),
    );

    const startedAtLocal = '2026-05-13T09:30';
    const odometer = { odometerStart: '20100', odometerStartUnit: 'km' };
    const fields = completeForm({ ...subjects, ...odometer, startedAtLocal });
    const replaced = await client.PUT('/own/runs/{id}/draft', {
      params: { path: { id }, header: { 'If-Match': first.response.headers.get('etag') ?? '' } },
      body: { fields },
    });
    expect(replaced.data).toMatchObject({ draftVersion: 2, toDo: [] });

    const sentFile = await client.PUT('/own/runs/{id}/recording', {
      params: { path: { id }, query: { name: 'drive.gpx' } },
      body: recording({ startMs: Date.UTC(2026, 4, 13, 8, 30) }) as never,
      bodySerializer: (bytes) => bytes,
      headers: { 'Content-Type': 'application/gpx+xml' },
    });
    expect(sentFile.response.status).toBe(201);
    expect(sentFile.data?.fileName).toBe('drive.gpx');
    expect((sentFile.data?.distanceM ?? 0) / 107_500).toBeCloseTo(1, 2);

    // with a place inside, as phones write it: it must not be kept
    const withPlace = await sharp(await somePhoto())
      .withExif({ IFD0: { Copyright: 'x' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '47/1 6/1 0/1' } })
      .jpeg()
      .toBuffer();
    expect((await sharp(withPlace).metadata()).exif).toBeDefined();
    for (const kind of ['startDisplay', 'finishDisplay'] as const) {
      const { data, response } = await client.POST('/own/runs/{id}/photos', {
        params: { path: { id }, query: { kind } },
        body: new Uint8Array(withPlace) as never,
        bodySerializer: (bytes) => bytes,
        headers: { 'Content-Type': 'image/jpeg' },
      });
      expect([response.status, data?.photos.at(-1)?.kind]).toEqual([201, kind]);
    }
    const kept = await prisma.evidenceFile.findFirstOrThrow({ where: { runId: id } });
    const bytes = await registry.blobs.get(kept.sha256 as never);
    expect((await sharp(bytes ?? undefined).metadata()).exif).toBeUndefined();

    const submission = await client.POST('/own/runs/{id}/submission', {
      params: { path: { id }, header: { 'If-Match': replaced.response.headers.get('etag') ?? '' } },
      body: {},
    });
    expect(submission.response.status).toBe(201);
    expect(submission.data).toMatchObject({ number: first.data?.number, revision: 1 });
    expect(submission.data?.findings.length).toBeGreaterThan(20);

    const { data: listed } = await client.GET('/own/runs', { params: { query: { state: 'submitted' } } });
    expect([listed?.total, listed?.items[0]?.id]).toEqual([1, id]);

    // what a reviewer asks for is read where it belongs
    const reviewer = await person(registry, 'Ada Quill', 'reviewer');
    await claimRun(registry, reviewer, { runId: id });
    await decideReview(registry, reviewer, {
      runId: id,
      revisionNumber: 1,
      kind: 'askChanges',
      note: 'Please look at the photo of the finish again.',
      reasons: [
        { ruleId: submission.data?.findings[0]?.ruleId ?? '', text: 'The photo shows another number.' },
      ],
    });
    const { data: run } = await client.GET('/own/runs/{id}', { params: { path: { id } } });
    expect(run).toMatchObject({
      status: 'changesAsked',
      isEditable: true,
      recording: { fileName: 'drive.gpx' },
      sent: { revision: 1 },
      review: { note: 'Please look at the photo of the finish again.' },
    });
    expect(run?.review?.reasons[0]?.text).toBe('The photo shows another number.');
    expect(run?.photos).toHaveLength(2);
  });

  it('goes by the examples of the page as they are printed', async () => {
    const files = { 'drive.gpx': recording({ haltS: 45 }), 'finish.jpg': await somePhoto() };
    const variables: Record<string, string> = { TOKEN: token };
    const [begin, ...rest] = writeExamples(BASE);
    const answer = await send(curlRequest(begin?.command ?? '', variables, files));
    expect(answer.status).toBe(201);
    variables.RUN = (await answer.json()).id;
    variables.ETAG = answer.headers.get('etag') ?? '';
    for (const { command } of rest) {
      if (command.includes('/submission')) {
        // what the page leaves to its reader: the other readings, and the photo of the start
        const fields = completeForm({ ...subjects, odometerStart: '20400', odometerStartUnit: 'km' });
        const path = `/runs/${variables.RUN}`;
        const filled = await ask('PATCH', `${path}/draft`, {
          token,
          json: { fields },
          headers: { 'If-Match': variables.ETAG },
        });
        variables.ETAG = filled.headers.get('etag') ?? '';
        await ask('POST', `${path}/photos?kind=startDisplay`, {
          token,
          body: new Uint8Array(await somePhoto()),
        });
      }
      const next = await send(curlRequest(command, variables, files));
      expect([command, next.status]).toEqual([command, command.includes('PATCH') ? 200 : 201]);
      variables.ETAG = next.headers.get('etag') ?? variables.ETAG;
    }
    expect(await prisma.run.count({ where: { id: variables.RUN, status: 'submitted' } })).toBe(1);
  });

  it('that fails a rule stays a draft and says which, unless it is to be sent all the same', async () => {
    const { id, etag } = await begun({
      ...completeForm(subjects),
      startedAtLocal: '2026-05-15T09:30',
      windSpeed: '19',
    });
    const path = `/runs/${id}/submission`;
    const refused = await problem(
      await ask('POST', path, { token, json: {}, headers: { 'If-Match': etag } }),
    );
    expect(refused.status).toBe(409);
    expect(refused.errors.length).toBeGreaterThan(0);
    expect(refused.errors.some(({ pointer }) => pointer?.startsWith('#/fields/'))).toBe(true);
    expect(await prisma.run.count({ where: { id, status: 'draft' } })).toBe(1);
    const sent = await ask('POST', path, { token, json: { failing: 'send' }, headers: { 'If-Match': etag } });
    expect(sent.status).toBe(201);
    expect((await sent.json()).findings.some(({ outcome }: { outcome: string }) => outcome === 'fail')).toBe(
      true,
    );
  });

  it('is told what is wrong of it by the parser of the form, each fault at its field', async () => {
    const { id, etag } = await begun({
      ...completeForm(subjects),
      tripEnergy: 'a lot',
      utcOffsetMin: '99999',
    });
    const said = await problem(
      await ask('POST', `/runs/${id}/submission`, { token, json: {}, headers: { 'If-Match': etag } }),
    );
    expect([said.status, said.errors.map(({ pointer }) => pointer).sort()]).toEqual([
      422,
      ['#/fields/tripEnergy', '#/fields/utcOffsetMin'],
    ]);
  });
});

describe('a change of a draft', () => {
  it('is made to the version that the program saw, or refused (RFC 9110, 13.1.1; RFC 6585, 3)', async () => {
    const { id, etag } = await begun({ notes: 'one' });
    const path = `/runs/${id}/draft`;
    const change = (ifMatch: string | undefined, notes: string | null) =>
      ask('PATCH', path, {
        token,
        json: { fields: { notes } },
        headers: ifMatch === undefined ? {} : { 'If-Match': ifMatch },
      });
    expect((await change(etag, 'two')).headers.get('etag')).toBe('"2"');
    for (const [given, status] of [
      [etag, 412],
      [`W/"2"`, 412],
      ['2', 412],
      ['"99999999999999999999"', 412],
      ['"0"', 412],
      ['"__proto__"', 412],
      [undefined, 428],
    ] as const)
      expect((await problem(await change(given, 'three'))).status, given).toBe(status);
    expect((await change('*', null)).status).toBe(200);
    const read = await ask('GET', path, { token });
    expect([read.headers.get('etag'), (await read.json()).fields]).toEqual(['"3"', {}]);
  });

  it('that is none is refused with a sentence at its place, and nothing is kept of it', async () => {
    const { id, etag } = await begun();
    const patch = (body: string, headers: Record<string, string> = { 'Content-Type': 'application/json' }) =>
      ask('PATCH', `/runs/${id}/draft`, { token, body, headers: { 'If-Match': etag, ...headers } });
    for (const [body, pointer] of [
      ['{"fields":{"__proto__":"x"}}', '#/fields/__proto__'],
      ['{"fields":{"toString":"x"}}', '#/fields/toString'],
      ['{"fields":{"nothing/such~":"x"}}', '#/fields/nothing~1such~0'],
      ['{"fields":{"\\ud800":"x"}}', '#/fields/%EF%BF%BD'],
      ['{"__proto__":{}}', '#/__proto__'],
      ['{"fields":{"notes":"a\\u0000b"}}', '#/fields/notes'],
      ['{"fields":{"notes":"\\ud800"}}', '#/fields/notes'],
      ['{"fields":{"tripEnergy":32.9}}', '#/fields/tripEnergy'],
      ['{"fields":{"carId":"1"}}', '#/fields/carId'],
      [`{"fields":{"notes":"${'x'.repeat(4001)}"}}`, '#/fields/notes'],
      ['{}', '#/fields'],
      ['{"fields":[]}', '#/fields'],
      ['[]', undefined],
      ['null', undefined],
      ['{"fields":', undefined],
      [`${'['.repeat(50_000)}`, undefined],
    ] as const) {
      const said = await problem(await patch(body));
      expect([body.slice(0, 60), said.status, said.errors[0]?.pointer]).toEqual([
        body.slice(0, 60),
        422,
        pointer,
      ]);
    }
    expect((await problem(await patch('a=b', { 'Content-Type': 'text/plain' }))).status).toBe(415);
    expect((await problem(await patch(`{"fields":{"notes":"${'x'.repeat(600_000)}"}}`))).status).toBe(413);
    expect(await prisma.run.findUniqueOrThrow({ where: { id } })).toMatchObject({
      draft: {},
      draftVersion: 1,
    });
  });

  it('at no address, by another method or with an odd query is refused as well', async () => {
    const { id } = await begun();
    for (const [method, path, status] of [
      ['GET', '/nothing', 404],
      ['GET', '/runs/__proto__', 404],
      ['GET', '/runs/99999999999999999999', 404],
      ['GET', `/runs/${encodeURIComponent('a\0b')}/draft`, 404],
      ['GET', `/runs/${crypto.randomUUID()}`, 404],
      ['DELETE', `/runs/${id}/draft`, 405],
      ['GET', '/runs?state=none', 422],
      ['GET', '/runs?stat=draft', 422],
      ['GET', '/runs?state=draft&state=draft', 422],
      ['GET', `/runs?from=${encodeURIComponent('a\0b')}`, 422],
      ['GET', '/runs?__proto__=1', 422],
      ['POST', `/runs/${id}/photos?kind=__proto__`, 422],
      ['POST', `/runs/${id}/photos`, 422],
      ['DELETE', `/runs/${id}/photos/${id}`, 404],
      ['DELETE', `/runs/${id}/recording`, 200],
    ] as const) {
      const answer = await ask(method, path, { token, ...(method === 'POST' ? { body: 'x' } : {}) });
      expect([path, answer.status]).toEqual([path, status]);
      if (status >= 400) await problem(answer);
      if (status === 405) expect(answer.headers.get('allow')).toBe('GET, OPTIONS, PATCH, PUT');
    }
    const empty = await problem(await ask('PUT', `/runs/${id}/recording`, { token, body: '' }));
    expect(empty.status).toBe(422);
    const form = new FormData();
    form.set('file', 'x');
    expect((await ask('PUT', `/runs/${id}/recording`, { token, body: form })).status).toBe(415);
    for (const [method, path, status] of [
      ['PUT', 'recording?name=__proto__', 422],
      ['PUT', `recording?latitude=__proto__&time=${'9'.repeat(20)}`, 422],
      ['PUT', `recording?name=${'x'.repeat(301)}`, 422],
      ['POST', 'photos?kind=other', 422],
    ] as const)
      for (const bytes of ['\0\0', '__proto__', '<gpx><trk>', 'a,b\n1,2\n']) {
        const odd = await problem(await ask(method, `/runs/${id}/${path}`, { token, body: bytes }));
        expect([path, odd.status]).toEqual([path, status]);
      }
    // a number beyond every range is a text that the parser refuses when it is sent
    const far = await begun({ tripDistance: '1e309', outboundDistance: '-99999999999999999999' });
    const draft = await (await ask('GET', `/runs/${far.id}/draft`, { token })).json();
    expect(draft.toDo.map(({ pointer }: { pointer?: string }) => pointer)).toEqual(
      expect.arrayContaining(['#/fields/tripDistance', '#/fields/outboundDistance']),
    );
  });
});

describe('what is sent under a key', () => {
  const runsOf = () => prisma.run.count({ where: { testerId: tester.accountId } });
  const begin = (key: string, notes: string, by = token) =>
    ask('POST', '/runs', { token: by, json: { fields: { notes } }, headers: { 'Idempotency-Key': key } });

  it('is done once and answered alike; another body under it is refused, another account has its own', async () => {
    const before = await runsOf();
    const first = await begin('key-one', 'a');
    const again = await begin('"key-one"', 'a');
    expect([again.status, again.headers.get('etag'), again.headers.get('location')]).toEqual([
      first.status,
      first.headers.get('etag'),
      first.headers.get('location'),
    ]);
    expect(await again.text()).toBe(await first.text());
    const otherBody = await problem(await begin('key-one', 'b'));
    expect([otherBody.status, otherBody.errors[0]?.header]).toEqual([422, 'Idempotency-Key']);
    expect((await begin('key-one', 'b', strange)).status).toBe(201);
    expect(await runsOf()).toBe(before + 1);
    for (const odd of ['', 'a b', '"', 'é', 'x'.repeat(101)])
      expect((await problem(await begin(odd, 'a'))).status, odd).toBe(422);
  });

  it('saves a change whose answer got lost from being refused as stale', async () => {
    const { id, etag } = await begun();
    const change = () =>
      ask('PATCH', `/runs/${id}/draft`, {
        token,
        json: { fields: { notes: 'x' } },
        headers: { 'If-Match': etag, 'Idempotency-Key': 'lost' },
      });
    expect([(await change()).headers.get('etag'), (await change()).headers.get('etag')]).toEqual([
      '"2"',
      '"2"',
    ]);
  });

  it('is waited for while it is being done, and taken up again where it broke off', async () => {
    const none = await runsOf();
    const answers = await Promise.all([begin('at-once', 'a'), begin('at-once', 'a')]);
    // The later one is told to wait, or given the answer where that was there by then.
    const [first, later] = answers.map(({ status }) => status).toSorted((a, b) => a - b);
    expect(first).toBe(201);
    expect([201, 409]).toContain(later);
    const ids = await Promise.all(
      answers.filter(({ status }) => status === 201).map(async (answer) => (await answer.json()).id),
    );
    expect(new Set(ids).size).toBe(1);
    expect(await runsOf()).toBe(none + 1);
    const [made] = ids;
    const where = { accountId: tester.accountId, key: 'at-once' };
    await prisma.keptAnswer.updateMany({ where, data: { status: null, body: null } });
    expect((await problem(await begin('at-once', 'a'))).status).toBe(409);
    clock.now = new Date(clock.now.getTime() + 3 * MINUTE_MS);
    const before = await runsOf();
    expect(await (await begin('at-once', 'a')).json()).toMatchObject({ id: made });
    expect(await runsOf()).toBe(before);
  });

  it('keeps no refusal, is forgotten after a day and bounded', async () => {
    const refused = await ask('POST', '/runs', {
      token,
      json: { fields: { nothing: 'x' } },
      headers: { 'Idempotency-Key': 'refused' },
    });
    expect(refused.status).toBe(422);
    const { id, etag } = await begun(completeForm({ ...subjects, tripEnergy: 'much' }));
    const sent = (failing: string) =>
      ask('POST', `/runs/${id}/submission`, {
        token,
        json: { failing },
        headers: { 'If-Match': etag, 'Idempotency-Key': 'mended' },
      });
    expect((await sent('draft')).status).toBe(422);
    expect(await prisma.keptAnswer.count({ where: { key: { in: ['refused', 'mended'] } } })).toBe(0);

    const at = clock.now;
    await prisma.keptAnswer.deleteMany();
    await prisma.keptAnswer.createMany({
      data: Array.from({ length: MOST_KEPT }, (_, n) => ({
        accountId: tester.accountId,
        route: 'POST /x',
        key: `k${n}`,
        id: crypto.randomUUID(),
        requestHash: 'x',
        askedAt: at,
        begunAt: at,
      })),
    });
    const full = await begin('one-more', 'a');
    expect([full.status, full.headers.get('retry-after')]).toEqual([429, String(KEPT_MS / 1000)]);
    clock.now = new Date(at.getTime() + KEPT_MS + 1);
    token = await tokenFor(tester.accountId);
    strange = await tokenFor(other.accountId);
    expect((await begin('one-more', 'a')).status).toBe(201);
    await sweepKeptAnswers(registry);
    expect(await prisma.keptAnswer.count()).toBe(1);
  });
});

describe('a token', () => {
  it('is shown once, kept by its hash, listed with its last use, and its first use is in the log', async () => {
    const actor = await signedInAs(registry, other.accountId);
    const { secret } = await makePersonalToken(registry, mail, actor, {
      name: 'Laptop',
      scopes: ['runs:submit', 'runs:read', 'runs:read'],
      days: 90,
    });
    const rows = await prisma.token.findMany({ where: { accountId: other.accountId } });
    expect(JSON.stringify(rows)).not.toContain(secret.slice(9));
    const find = async () =>
      (await readPersonalTokens(registry, actor)).find(({ name }) => name === 'Laptop');
    expect(await find()).toMatchObject({
      usedAt: undefined,
      mayDo: ['Read your own drafts and runs', 'Send drafts in'],
    });
    for (let n = 0; n < 3; n += 1) expect((await ask('GET', '/runs', { token: secret })).status).toBe(200);
    expect((await find())?.usedAt).toBe(clock.now.toISOString());
    clock.now = new Date(clock.now.getTime() + 6 * MINUTE_MS);
    await ask('GET', '/runs', { token: secret });
    expect((await find())?.usedAt).toBe(clock.now.toISOString());
    const acts = await prisma.auditEntry.findMany({
      where: { actorId: other.accountId, personal: { path: ['name'], equals: 'Laptop' } },
      orderBy: { id: 'asc' },
    });
    expect(acts.map(({ action }) => action)).toEqual(['account.makeToken', 'account.useToken']);
    const { email } = await prisma.account.findUniqueOrThrow({ where: { id: other.accountId } });
    const letter = lastTo(email ?? '')?.text ?? '';
    expect(letter).toContain('“Laptop”');
    expect(letter).toContain('- Send drafts in');
    expect(letter).not.toContain(secret.slice(9));
    const archive: Uint8Array[] = [];
    for await (const chunk of await ownDataZip(registry, actor)) archive.push(chunk);
    expect(archive.length).toBeGreaterThan(0);
    await revokePersonalToken(registry, actor, { key: (await find())?.key });
    expect(await find()).toBeUndefined();
    const ended = await ask('GET', '/runs', { token: secret });
    expect([ended.status, ended.headers.get('www-authenticate')]).toEqual([
      401,
      'Bearer realm="Evenloop", error="invalid_token"',
    ]);
  });

  it('opens what its scopes name and nothing else, at each address', async () => {
    const { id, etag } = await begun();
    for (const scope of SCOPE_KEYS) {
      const narrow = await tokenFor(
        other.accountId,
        SCOPE_KEYS.filter((key) => key !== scope),
      );
      for (const operation of OPERATIONS) {
        if (operation.scope !== scope) continue;
        const path = operation.path.slice('/own'.length).replace('{id}', id).replace('{photo}', id);
        const answer = await ask(operation.method, path, { token: narrow, headers: { 'If-Match': etag } });
        expect([operation.id, answer.status]).toEqual([operation.id, 403]);
        expect(answer.headers.get('www-authenticate')).toContain(
          `error="insufficient_scope", scope="${scope}"`,
        );
        expect((await problem(answer)).title).toContain(scope);
      }
    }
  });

  it('opens its own account’s things alone, with a tester’s rights, by no cookie and not without one', async () => {
    const { id, etag } = await begun(completeForm(subjects));
    const ofSteward = await tokenFor(steward.accountId);
    for (const by of [strange, ofSteward])
      for (const operation of OPERATIONS) {
        if (!operation.path.includes('{id}')) continue;
        const path = operation.path.slice('/own'.length).replace('{id}', id).replace('{photo}', id);
        const query = operation.id === 'addPhoto' ? '?kind=other' : '';
        const answer = await ask(operation.method, `${path}${query}`, {
          token: by,
          headers: { 'If-Match': etag },
          ...(operation.sent?.kind === 'json'
            ? { json: operation.id === 'submitRun' ? {} : { fields: { notes: 'x' } } }
            : {}),
          ...(operation.sent?.kind === 'file' ? { body: new Uint8Array(await somePhoto()) } : {}),
        });
        expect([operation.id, answer.status]).toEqual([operation.id, 403]);
      }
    const before = strangers;
    const odd: Record<string, string>[] = [
      {},
      { Cookie: 'next-auth.session-token=x' },
      { Authorization: `Basic ${token}` },
      { Authorization: `Bearer ${newToken()}` },
      { Authorization: `Bearer ${token.slice(0, -1)}` },
      { Authorization: 'Bearer __proto__' },
    ];
    for (const given of odd) {
      const answer = await ask('GET', '/runs', { headers: given });
      expect(answer.status).toBe(401);
      expect(answer.headers.get('www-authenticate')).toMatch(/^Bearer realm="Evenloop"/);
    }
    expect(strangers).toBe(before + 6);
  });

  it('is over by its day, after a new password, by signing out everywhere; not while suspended; gone with the account', async () => {
    const holder = await person(registry, 'Teo Marsh');
    const status = async (by: string) => (await ask('GET', '/runs', { token: by })).status;
    const short = await tokenFor(holder.accountId, SCOPE_KEYS, 30);
    expect(await status(short)).toBe(200);
    const start = clock.now;
    clock.now = new Date(start.getTime() + 30 * 24 * 60 * MINUTE_MS);
    expect(await status(short)).toBe(401);
    clock.now = start;
    expect(await status(short)).toBe(200);

    await changePassword(registry, await signedInAs(registry, holder.accountId), {
      currentPassword: STRONG_PASSWORD,
      newPassword: 'nine green herons on a wet roof',
    });
    expect(await status(short)).toBe(401);
    const second = await tokenFor(holder.accountId);
    await signOutEverywhere(registry, await signedInAs(registry, holder.accountId));
    expect(await status(second)).toBe(401);

    const third = await tokenFor(holder.accountId);
    const by = await signedInAs(registry, steward.accountId);
    const reason = 'Photos of three runs were drawn, not taken.';
    await suspendAccount(registry, mail, by, { accountId: holder.accountId, reason });
    const refused = await ask('GET', '/runs', { token: third });
    expect(refused.status).toBe(403);
    expect((await problem(refused)).title).toContain('drawn, not taken');
    await expect(
      makePersonalToken(registry, mail, await signedInAs(registry, holder.accountId), {
        name: 'x',
        scopes: ['runs:read'],
        days: 30,
      }),
    ).rejects.toThrow(NotAllowed);
    await liftSuspension(registry, mail, by, { accountId: holder.accountId, reason });
    expect(await status(third)).toBe(200);
    await eraseAccount(registry, await signedInAs(registry, holder.accountId), { isConfirmed: true });
    expect(await status(third)).toBe(401);
    expect(await prisma.token.count({ where: { accountId: holder.accountId } })).toBe(0);
  });

  it('is made by a tester who just proved to be one, with a name, rights and an end, and not without bound', async () => {
    const actor = await signedInAs(registry, (await person(registry, 'Oda Lind')).accountId);
    const good = { name: 'Laptop', scopes: ['runs:read'], days: 30 };
    for (const [bad, path] of [
      [{ ...good, name: ' ' }, 'name'],
      [{ ...good, name: 'a\0b' }, 'name'],
      [{ ...good, scopes: [] }, 'scopes'],
      [{ ...good, scopes: ['__proto__'] }, 'scopes.0'],
      [{ ...good, days: 366 }, 'days'],
      [{ ...good, days: Number.NaN }, 'days'],
    ] as const) {
      const error = await makePersonalToken(registry, mail, actor, bad).catch((reason: unknown) => reason);
      expect(error).toBeInstanceOf(InvalidInput);
      expect((error as InvalidInput).issues[0]?.path).toBe(path);
    }
    const old = { ...actor, provedAt: new Date(clock.now.getTime() - FRESH_MS - 1) };
    await expect(makePersonalToken(registry, mail, old, good)).rejects.toThrow(NotAllowed);
    await expect(makePersonalToken(registry, mail, { ...actor, role: 'reader' }, good)).rejects.toThrow(
      NotAllowed,
    );
    const made = await Promise.allSettled(
      Array.from({ length: MOST_TOKENS + 3 }, () => makePersonalToken(registry, mail, actor, good)),
    );
    expect(made.filter(({ status }) => status === 'fulfilled')).toHaveLength(MOST_TOKENS);
    for (const one of made) if (one.status === 'rejected') expect(one.reason).toBeInstanceOf(Conflict);
    const [row] = await readPersonalTokens(registry, actor);
    const thief = await signedInAs(registry, other.accountId);
    await expect(revokePersonalToken(registry, thief, { key: row?.key })).rejects.toThrow(NotFound);
    await signOutEverywhere(registry, actor);
    await expect(makePersonalToken(registry, mail, actor, good)).rejects.toThrow(Conflict);
  });

  it('has to wait where it sends without end', async () => {
    const { id } = await begun();
    const upload = () => ask('PUT', `/runs/${id}/recording`, { token, body: '' });
    const answers = await Promise.all(Array.from({ length: ALLOWANCE.upload + 2 }, upload));
    const refused = answers.filter(({ status }) => status === 429);
    expect(refused).toHaveLength(2);
    expect(Number(refused[0]?.headers.get('retry-after'))).toBeGreaterThan(0);
    // What is left goes down by one with each, and is said to who is refused for another reason as well.
    const left = answers.map((answer) => Number(/r=(\d+)/.exec(answer.headers.get('ratelimit') ?? '')?.[1]));
    const all = Array.from({ length: ALLOWANCE.upload }, (_, used) => used);
    expect(left.toSorted((a, b) => a - b)).toEqual([0, 0, ...all]);
    expect(refused[0]?.headers.get('ratelimit-policy')).toBe(`"files";q=${ALLOWANCE.upload};w=600`);
    const reading = await ask('GET', `/runs/${id}/draft`, { token });
    expect(reading.headers.get('ratelimit')).toMatch(/^"requests";r=\d+;t=\d+$/);
  });
});
