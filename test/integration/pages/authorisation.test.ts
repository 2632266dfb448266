import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { SCOPE_KEYS } from '@/lib/access/personalTokens';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import type { SignedIn } from '@/lib/registry/accounts/currentActor';
import { makePersonalToken } from '@/lib/registry/accounts/personalTokens';
import { askForTest } from '@/lib/registry/requests/askForTest';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { openSheet } from '@/lib/registry/sessionSheets/openSheet';
import { planStudy } from '@/lib/registry/studies/planStudy';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import { atLeast, ROLES, type Role } from '@/lib/run/roles';
import { PLAN_DEFAULTS, setupFieldName } from '@/lib/study/planForm';
import { freshDatabase } from '@/test/helpers/database';
import { letterBox } from '@/test/helpers/letterBox';
import { loopOf, person, registryOn, signedInAs, submitted, vehicleOf } from '@/test/helpers/smallRegistry';
import { stillNavigation } from '@/test/helpers/stillNavigation';
import { type Door, doorsOfApp } from './authorisation/doors';
import { ROWS, type Row } from './authorisation/rows';

/**
 * The authorisation matrix: every door of the app × who asks × whose thing it is. What is to be refused is asked for at
 * the door itself, with what a form or a program would send; and each door is asked once by somebody who may, with the
 * same, so that a refusal is none of what was sent.
 */
const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);
const { mail } = letterBox();

let visitor: SignedIn | undefined;
let refusals: unknown[] = [];
const ORIGIN = 'http://registry.example';
vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/mail', () => ({ mail: () => mail }));
vi.mock('@/app/visitor/actor', async () => {
  const { redirect } = await import('next/navigation');
  return {
    signedIn: async () => visitor,
    requireSignedIn: async () => visitor ?? redirect('/sign-in'),
  };
});
vi.mock('@/app/visitor/noteRefusal', () => ({
  noteRefusal: async (error: unknown) => {
    refusals.push(error);
  },
}));
vi.mock('@/app/visitor/displayCookie', () => ({
  displayOfCookie: async () => undefined,
  keepInCookie: async () => undefined,
}));
vi.mock('@/app/visitor/networkAddress', () => ({ networkAddress: async () => undefined }));
vi.mock('next/cache', () => ({ revalidatePath: () => undefined, revalidateTag: () => undefined }));
vi.mock('next/headers', () => ({
  headers: async () => new Headers({ host: 'registry.example', origin: ORIGIN }),
  cookies: async () => ({ get: () => undefined, set: () => undefined }),
}));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));
process.env.__NEXT_EXPERIMENTAL_AUTH_INTERRUPTS = 'true';

type Whose = 'own' | 'others' | 'demo';
const WHO = ['visitor', ...ROLES] as const;
type Who = (typeof WHO)[number];

interface Cell {
  door: Door;
  row: Row;
  who: Who;
  whose: Whose | undefined;
  isAllowed: boolean;
}

/** What the row says of one who asks; `demo` is an account of the invented world at a thing of the record. */
function allows({ least, of }: Row, who: Who, whose: Whose | undefined): boolean {
  if (least === 'anyone' && of === undefined) return true;
  const role: Role | undefined = who === 'visitor' ? undefined : who;
  if (of === 'published')
    return role !== undefined && (whose === 'own' || (whose === 'others' && atLeast(role, 'reviewer')));
  if (role === undefined || least === 'anyone' || !atLeast(role, least)) return false;
  switch (of) {
    case undefined:
      return true;
    case 'own':
      return whose === 'own';
    case 'others':
      return whose === 'others';
    case 'ownOrReviewer':
      return whose === 'own' || (whose === 'others' && atLeast(role, 'reviewer'));
    case 'ownOrSteward':
      return whose === 'own' || (whose === 'others' && atLeast(role, 'steward'));
  }
}

const doors = doorsOfApp();
const cells: Cell[] = doors.flatMap((door) => {
  const row = ROWS[door.key];
  if (row === undefined) return [];
  const things: (Whose | undefined)[] = row.of === undefined ? [undefined] : ['own', 'others', 'demo'];
  return WHO.flatMap((who) =>
    things.map((whose) => ({ door, row, who, whose, isAllowed: allows(row, who, whose) })),
  );
});

/** Addresses that know who asks by a token alone: one of the account that acts is sent, or none. */
const isByToken = ({ key }: Door) => key.startsWith('api/v1/own/');
const tokens = new Map<string, string>();

const now = () => registry.now();
let ownerId = '';
let otherId = '';
let demoId = '';
const params: Record<string, string> = {};
const form: Record<string, string> = {};

beforeAll(async () => {
  const owner = await person(registry, 'Mira Holm');
  const other = await person(registry, 'Jonas Reet');
  const demo = await person({ ...registry, world: 'demo' }, 'Pia Lund');
  [ownerId, otherId, demoId] = [owner.accountId, other.accountId, demo.accountId];
  const vehicle = await vehicleOf(registry, owner);
  const loopId = await loopOf(registry, owner);
  const subjects = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId };
  const sent = await submitted(registry, owner, { ...subjects, startedAtLocal: '2026-05-14T08:00' });
  const draft = await startDraft(registry, owner, { creationKey: crypto.randomUUID(), form: subjects });
  const { sheetId } = await openSheet(registry, owner, {
    creationKey: crypto.randomUUID(),
    localDate: '2026-05-14',
  });
  await prisma.run.update({ where: { id: draft.runId }, data: { sheetId } });
  const evidence = await prisma.evidenceFile.findFirstOrThrow({ where: { runId: sent.runId } });
  const { id: importId } = await prisma.importBatch.create({
    data: {
      byId: ownerId,
      fileName: 'a.csv',
      mode: 'dry',
      rowsRead: 0,
      rowsMade: 0,
      rowsRefused: 0,
      report: {},
    },
  });
  const study = await planStudy(registry, owner, {
    ...subjects,
    cruiseClassKey: 'kmh-110',
    question: 'Does the low ride height use less?',
    form: { ...PLAN_DEFAULTS, baselineId: vehicle.baselineId, [setupFieldName(vehicle.lowId)]: 'yes' },
  });
  const model = await prisma.vehicleModel.findFirstOrThrow();
  const pair = `setups ${vehicle.baselineId} ${vehicle.lowId}`;
  const { requestId } = await askForTest(registry, owner, {
    modelId: model.id,
    cruiseClassKey: 'kmh-110',
    pair,
    question: 'Does the low ride height use less?',
  });
  const setup = await prisma.setup.findFirstOrThrow();
  const loop = await prisma.loop.findUniqueOrThrow({ where: { id: loopId } });
  const { id: versionId, label } = await prisma.protocolVersion.findFirstOrThrow();
  const protocolDraft = await prisma.protocolDraft.create({
    data: {
      label: '9.8',
      summary: 'Of nobody in particular.',
      parameters: NEWEST_VERSION.parameters,
      basedOnId: versionId,
      createdById: otherId,
      createdAt: now(),
      editedAt: now(),
    },
  });
  Object.assign(params, {
    id: requestId,
    runId: draft.runId,
    sheetId,
    evidenceId: evidence.id,
    calibrationId: versionId,
    carId: vehicle.carId,
    importId,
    draftId: protocolDraft.id,
    part: 'loop',
    number: String(sent.runNumber),
    digest: evidence.sha256,
    slug: model.slug,
    key: 'rideHeight',
    label,
    kind: 'ranking',
    file: 'x.svg',
    nextauth: 'session',
  });
  Object.assign(form, {
    ...params,
    ...subjects,
    draftVersion: String(draft.draftVersion),
    seenSheet: String(draft.draftVersion + 1),
    localDate: '2026-05-15',
    modelId: model.id,
    slug: setup.slug,
    loopSlug: loop.slug,
    requestId,
    pair,
    wants: 'back',
    studyId: study.studyId,
    studySlug: study.slug,
    version: '1',
    correctionId: versionId,
    computation: '1',
    accountId: otherId,
    role: 'reviewer',
    reason: 'A reason that is long enough to be kept.',
    words: 'Words that are long enough to be kept.',
    summary: 'A summary that is long enough.',
    revision: '1',
    revisionNumber: String(sent.revisionNumber),
    kind: 'approve',
    decision: 'approve',
    label: '9.9',
    seenVersionId: versionId,
    snapshotId: versionId,
    keyId: '0123456789abcdef',
    origin: 'https://loops.example',
    isConfirmed: 'yes',
    world: 'record',
    learnedId: versionId,
    cruiseClassKey: 'kmh-90',
    factor: 'rideHeight',
    levelId: versionId,
    sharedLevelId: versionId,
    seenId: versionId,
    seenWords: 'Low',
    seenMapped: '0',
    areRequired: 'no',
    act: 'hold',
    seen: `${sent.runNumber}.submitted.free.1`,
    creationKey: crypto.randomUUID(),
    changedOn: '2026-05-10',
    token: 'x',
    email: 'somebody@people.example',
    code: '000000',
    stewardCode: 'AAAA-AAAA-AAAA',
    currentPassword: 'x',
    newPassword: 'x',
    password: 'x',
    mode: 'drafts',
    sheetName: 'x',
    key: 'x',
  });
  for (const [method, part] of Object.entries({
    DELETE: 'recording',
    GET: 'draft',
    PATCH: 'draft',
    POST: 'submission',
    PUT: 'draft',
  }))
    OWN_PATHS[method] = ['runs', draft.runId, part];
  for (const accountId of [ownerId, otherId, demoId]) {
    const actor = await signedInAs(registry, accountId);
    const made = { name: 'Program', scopes: [...SCOPE_KEYS], days: 30 };
    tokens.set(accountId, (await makePersonalToken(registry, mail, actor, made)).secret);
  }
  // Used before: what is written at a first use is none of a refusal's.
  await prisma.token.updateMany({ data: { usedAt: now() } });
  // The run that is on its way, for what is done to one; the draft for what is done to that.
  form.sentRunId = sent.runId;
});

/** Actions that are about a run that was sent in. */
const OF_SENT = /\(review\)|\(public\)\/runs|actions\.ts withdraw$/;

function actAs({ who, whose }: Pick<Cell, 'who' | 'whose'>): void {
  const accountId = whose === 'own' ? ownerId : whose === 'demo' ? demoId : otherId;
  if (who === 'visitor') visitor = undefined;
  else
    visitor = {
      accountId,
      role: who,
      heldBack: undefined,
      suspension: undefined,
      displayName: 'Somebody',
      slug: 'somebody',
      world: whose === 'demo' ? 'demo' : 'record',
      preferences: undefined,
      signInKey: 'none',
      provedAt: now(),
    };
}

function formData({ key }: Door): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries(form)) data.set(name, value);
  if (OF_SENT.test(key)) data.set('runId', form.sentRunId ?? '');
  if (key.includes('/requests/')) data.set('question', 'Does the low ride height use less?');
  return data;
}

function request(door: Door): Request {
  const init: RequestInit = { method: door.name, headers: { origin: ORIGIN, host: 'registry.example' } };
  if (isByToken(door)) {
    const bearer = visitor && tokens.get(visitor.accountId);
    const headers = {
      'If-Match': '*',
      'Content-Type': 'application/json',
      Cookie: 'next-auth.session-token=x',
    };
    init.headers = bearer === undefined ? headers : { ...headers, Authorization: `Bearer ${bearer}` };
    if (door.name === 'POST') init.body = '{}';
    else if (door.name !== 'GET' && door.name !== 'DELETE') init.body = '{"fields":{}}';
  } else if (door.name === 'PUT' || /field\/runs\/route/.test(door.key))
    init.body = JSON.stringify({ form: {} });
  else if (door.name === 'POST') init.body = formData(door);
  return new Request(`${ORIGIN}/x`, init);
}

/** Told that one may not; told that there is no such thing; what was sent was not even read; or answered. */
type Answer = 'notAllowed' | 'hidden' | 'unread' | 'answered';

async function ask(cell: Cell): Promise<Answer> {
  const { door, who } = cell;
  actAs(cell);
  refusals = [];
  // By a token the role is the account's own, of now.
  const isAsAnother = isByToken(door) && visitor !== undefined && who !== 'tester';
  const setRole = (role: Role) =>
    prisma.account.update({ where: { id: visitor?.accountId ?? '' }, data: { role } });
  if (isAsAnother) await setRole(who as Role);
  const answer = await open(door).finally(() => (isAsAnother ? setRole('tester') : undefined));
  return refusals.some((error) => error instanceof NotAllowed) ? 'notAllowed' : answer;
}

async function open(door: Door): Promise<Answer> {
  const load = await import(/* @vite-ignore */ `../../../${door.file}`);
  const ofDoor = {
    ...params,
    ...slugFor(door.key),
    ...(isByToken(door) ? { path: OWN_PATHS[door.name] } : {}),
  };
  const context = { params: Promise.resolve(ofDoor), searchParams: Promise.resolve({}) };
  try {
    if (door.kind === 'page') {
      await load.default(context);
      return 'answered';
    }
    if (door.kind === 'route') {
      const { status } = (await load[door.name](request(door), context)) as Response;
      return OF_STATUS.get(status) ?? 'answered';
    }
    const takesState = load[door.name].length !== 1;
    const state = await load[door.name](...(takesState ? [UNTOUCHED] : []), formData(door));
    if (refusals.some((error) => error instanceof NotFound)) return 'hidden';
    return (state?.issues ?? []).length > 0 ? 'unread' : 'answered';
  } catch (error) {
    const digest = String((error as { digest?: unknown }).digest ?? '');
    if (error instanceof NotAllowed || /;(401|403)$|NEXT_REDIRECT;[^;]*;\/sign-in/.test(digest))
      return 'notAllowed';
    if (error instanceof NotFound || /;404$/.test(digest)) return 'hidden';
    return 'answered';
  }
}

/** One address below /api/v1/own for each method, about the draft. */
const OWN_PATHS: Record<string, string[]> = {};

/** The address of the kind of thing that a page is about. */
function slugFor(key: string): { slug?: string } {
  if (key.includes('studies/')) return { slug: form.studySlug ?? '' };
  if (key.includes('setups/')) return { slug: form.slug ?? '' };
  return key.includes('loops/') ? { slug: form.loopSlug ?? '' } : {};
}

const OF_STATUS: ReadonlyMap<number, Answer> = new Map([
  [401, 'notAllowed'],
  [403, 'notAllowed'],
  [404, 'hidden'],
  [422, 'unread'],
]);

/** What every table holds, but for the counts of tries. */
async function contents(): Promise<Record<string, string | null>> {
  const tables = await prisma.$queryRaw<{ name: string }[]>`
    SELECT c.relname AS "name" FROM pg_class c
    WHERE c.relkind = 'r' AND c.relnamespace = current_schema()::regnamespace AND c.relname <> 'TryCount'`;
  const sums = tables.map(async ({ name }) => {
    const [row] = await prisma.$queryRawUnsafe<{ sum: string | null }[]>(
      `SELECT md5(string_agg(t::text, ',' ORDER BY t::text)) AS "sum" FROM "${name}" t`,
    );
    return [name, row?.sum ?? null] as const;
  });
  return Object.fromEntries(await Promise.all(sums));
}

const nameOf = ({ door, who, whose }: Cell) => `${door.key} · ${who}${whose ? ` · ${whose}` : ''}`;

describe('the authorisation matrix', { timeout: 300_000 }, () => {
  it('has a row for every action, route and page, and none for what is gone', () => {
    expect(Object.keys(ROWS).sort()).toEqual(doors.map(({ key }) => key).sort());
    expect(doors.length).toBeGreaterThan(120);
  });

  it('refuses, at the door itself, whoever may not, and nothing is written', async () => {
    const wrong: string[] = [];
    const before = await contents();
    const refused = cells.filter(({ isAllowed }) => !isAllowed);
    for (const cell of refused) if ((await ask(cell)) === 'answered') wrong.push(nameOf(cell));
    expect(wrong).toEqual([]);
    expect(await contents()).toEqual(before);
    console.log(
      `authorisation: ${doors.length} doors, ${cells.length} cells, ${refused.length} refusals asked for`,
    );
  });

  it('answers whoever may, so that no refusal is one of what was sent', async () => {
    const wrong: string[] = [];
    for (const door of doors) {
      const row = ROWS[door.key];
      // Who may is asked at doors with a right of their own; what is open to all is crawled elsewhere.
      const cell = cells.find((one) => one.door === door && one.isAllowed && one.who !== 'visitor');
      if (row?.least === 'anyone' || cell === undefined) continue;
      if ((await ask(cell)) === 'notAllowed') wrong.push(nameOf(cell));
    }
    expect(wrong).toEqual([]);
  });
});
