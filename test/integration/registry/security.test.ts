import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FREE_TRIES } from '@/lib/access/delays';
import { readPeople } from '@/lib/registry/accounts/people';
import { setRole } from '@/lib/registry/accounts/setRole';
import { signIn } from '@/lib/registry/accounts/signIn';
import { signUp } from '@/lib/registry/accounts/signUp';
import { ensureStewardCode } from '@/lib/registry/accounts/stewardCode';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { addCar } from '@/lib/registry/cars/addCar';
import { readLoop } from '@/lib/registry/loops/loop';
import type { Registry } from '@/lib/registry/registry';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { readQueue } from '@/lib/registry/review/queue';
import { nextReview, readReview } from '@/lib/registry/review/review';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { evidenceFile } from '@/lib/registry/runs/evidenceFile';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { readRun } from '@/lib/registry/runs/run';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { DEMO } from '@/lib/run/world';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import {
  loopOf,
  person,
  registryOn,
  STRONG_PASSWORD,
  signedInAs,
  somePhoto,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

describe('sign-in', () => {
  it('counts tries that are sent all at once', async () => {
    await person(registry, 'Many Tries');
    const wrong = { email: 'many.tries@people.example', password: 'not the one at all' };
    const results = await Promise.all(Array.from({ length: 30 }, () => signIn(registry, wrong)));
    expect(results.filter((result) => !result.ok && result.reason === 'wrong').length).toBeLessThanOrEqual(
      FREE_TRIES.account + 1,
    );
  });

  it.each([
    ['far too long', `${'a'.repeat(100_000)}@people.example`],
    ['no text that a database keeps', 'nul\u0000@people.example'],
  ])('an address that is %s is wrong like any other and leaves nothing behind', async (_what, email) => {
    const before = await prisma.tryCount.count();
    expect(await signIn(registry, { email, password: 'x' })).toEqual({ ok: false, reason: 'wrong' });
    expect(await prisma.tryCount.count()).toBe(before);
  });
});

describe('roles', () => {
  it('two stewards who depose each other at once leave one', async () => {
    const one = await person(registry, 'First Steward', 'steward');
    const other = await person(registry, 'Second Steward', 'steward');
    const results = await Promise.allSettled([
      setRole(registry, one, { accountId: other.accountId, role: 'tester' }),
      setRole(registry, other, { accountId: one.accountId, role: 'tester' }),
    ]);
    expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(results.find((result) => result.status === 'rejected')?.reason).toBeInstanceOf(NotAllowed);
    expect(await prisma.account.count({ where: { role: 'steward' } })).toBe(1);
  });
});

describe('accounts of the demo world in a registry of real runs', () => {
  const demoRegistry = { ...registry, world: DEMO };
  let tester: Actor;
  let demoTester: Actor;
  let demoReviewer: Actor;
  let demoSteward: Actor;
  let vehicle: Vehicle;
  let demoVehicle: Vehicle;
  let loopId: string;
  let demoLoopId: string;

  /** As a request of theirs is known: by the token's account. */
  const demoPerson = async (name: string, role: Actor['role']): Promise<Actor> => {
    const { accountId } = await person(demoRegistry, name, role);
    return signedInAs(registry, accountId);
  };
  const form = (of: Vehicle, on: string, day: string) => ({
    carId: of.carId,
    setupId: of.baselineId,
    loopId: on,
    startedAtLocal: `2026-06-${day}T09:00`,
  });

  beforeAll(async () => {
    tester = await person(registry, 'Real Tester');
    demoTester = await demoPerson('Demo Tester', 'tester');
    demoReviewer = await demoPerson('Demo Reviewer', 'reviewer');
    demoSteward = await demoPerson('Demo Steward', 'steward');
    vehicle = await vehicleOf(registry, tester);
    loopId = await loopOf(registry, tester);
    demoVehicle = await vehicleOf(registry, demoTester, 'Gannet');
    demoLoopId = await loopOf(registry, demoTester, 'Demo causeway');
  });

  it('what they add and record is demo, without being told so', async () => {
    const run = await submitted(registry, demoTester, form(demoVehicle, demoLoopId, '01'));
    expect(await prisma.run.findUnique({ where: { id: run.runId } })).toMatchObject({ world: 'demo' });
    expect(await prisma.loop.findUnique({ where: { id: demoLoopId } })).toMatchObject({ world: 'demo' });
    expect(await prisma.car.findUnique({ where: { id: demoVehicle.carId } })).toMatchObject({
      world: 'demo',
    });
    expect(await prisma.setup.findUnique({ where: { id: demoVehicle.lowId } })).toMatchObject({
      world: 'demo',
    });
    const draft = await startDraft(registry, demoTester, {
      creationKey: 'a draft of the demo world',
      form: {},
    });
    expect(await prisma.run.findUnique({ where: { id: draft.runId } })).toMatchObject({ world: 'demo' });
  });

  it('record on demo loops only, and add no setups to real models', async () => {
    await expect(submitted(registry, demoTester, form(demoVehicle, loopId, '02'))).rejects.toMatchObject({
      issues: [{ path: 'loopId' }],
    });
    await expect(addSetup(registry, demoTester, { modelId: vehicle.modelId, levelIds: [] })).rejects.toThrow(
      NotAllowed,
    );
  });

  it('a real tester’s run with a car of a demo model is demo', async () => {
    const { carId } = await addCar(registry, tester, { modelId: demoVehicle.modelId, name: 'Borrowed' });
    const run = await submitted(registry, tester, form({ ...demoVehicle, carId }, loopId, '03'));
    const stored = await prisma.run.update({
      where: { id: run.runId },
      data: { status: 'approved', approvedRevision: 1 },
      include: { loop: true },
    });
    expect(stored).toMatchObject({ world: 'demo' });
    // Beside a real loop's own runs it would count as one of them.
    const loop = await readLoop(registry, stored.loop?.slug ?? '');
    expect(loop?.runs.rows.map(({ number }) => number)).toEqual([]);
  });

  it('a demo reviewer neither sees nor decides a real run', async () => {
    const real = await submitted(registry, tester, form(vehicle, loopId, '04'));
    const demo = await submitted(registry, demoTester, form(demoVehicle, demoLoopId, '05'));
    const queue = await readQueue(registry, demoReviewer, {});
    expect(queue.rows.map(({ number }) => number)).toContain(demo.runNumber);
    expect(queue.rows.every(({ world }) => world === 'demo')).toBe(true);
    expect(await readRun(registry, demoReviewer, real.runNumber)).toBeUndefined();
    await expect(readReview(registry, demoReviewer, real.runNumber)).rejects.toThrow(NotFound);
    // All runs here carry the same picture; this one is left with it alone.
    const photo = await prisma.evidenceFile.findFirstOrThrow({ where: { runId: real.runId } });
    await prisma.evidenceFile.updateMany({
      where: { runId: { not: real.runId }, sha256: photo.sha256 },
      data: { sha256: '0'.repeat(64), thumbSha256: '0'.repeat(64) },
    });
    await expect(evidenceFile(registry, demoReviewer, photo.sha256)).rejects.toThrow(NotFound);
    await expect(claimRun(registry, demoReviewer, { runId: real.runId })).rejects.toThrow(NotAllowed);
    await claimRun(registry, demoReviewer, { runId: demo.runId });
    const next = await nextReview(registry, demoReviewer, demo.runId);
    expect(next === undefined || queue.rows.some(({ number }) => number === next)).toBe(true);
  });

  it('a demo steward rules the demo world only', async () => {
    const people = await readPeople(registry, demoSteward);
    expect(people.rows.every(({ world }) => world === 'demo')).toBe(true);
    const log = await readAuditLog(registry, demoSteward, {});
    expect(log.rows.map(({ actor }) => actor)).not.toContain('Real Tester');
    await expect(
      setRole(registry, demoSteward, { accountId: tester.accountId, role: 'steward' }),
    ).rejects.toThrow(NotAllowed);
    await setRole(registry, demoSteward, { accountId: demoReviewer.accountId, role: 'tester' });
  });
});

describe('a registry that holds nothing but the demo world', () => {
  it('still makes its first real person steward by the code', async () => {
    const { prisma: other } = await freshDatabase();
    const { registry: fresh, remove: removeFresh } = await registryOn(other);
    await person({ ...fresh, world: 'demo' }, 'Demo Only', 'steward');
    const code = await ensureStewardCode(fresh);
    const account = { displayName: 'Owner', password: STRONG_PASSWORD };
    await expect(
      signUp(fresh, { ...account, email: 'x@people.example', stewardCode: 'AAAA-AAAA-AAAA' }),
    ).rejects.toThrow(InvalidInput);
    const { accountId } = await signUp(fresh, { ...account, email: 'o@people.example', stewardCode: code });
    expect(await other.account.findUnique({ where: { id: accountId } })).toMatchObject({ role: 'steward' });
    expect(await ensureStewardCode(fresh)).toBeNull();
    removeFresh();
  });
});

describe('what happens between reading and writing', () => {
  let tester: Actor;
  let reviewer: Actor;
  let form: Record<string, string>;
  let day = 10;

  beforeAll(async () => {
    tester = await person(registry, 'Hasty Tester');
    reviewer = await person(registry, 'Slow Reviewer', 'reviewer');
    const vehicle = await vehicleOf(registry, tester, 'Plover');
    const loopId = await loopOf(registry, tester, 'Hasty causeway');
    form = { carId: vehicle.carId, setupId: vehicle.baselineId, loopId };
  });
  const nextForm = () => {
    day += 1;
    return { ...form, startedAtLocal: `2026-06-${day}T09:00` };
  };
  /** A registry in which something else happens just before the next transaction begins. */
  const interrupted = (meanwhile: () => Promise<unknown>): Registry => ({
    ...registry,
    db: new Proxy(registry.db, {
      get: (target, key) =>
        key === '$transaction'
          ? async (...args: unknown[]) => {
              await meanwhile();
              return Reflect.apply(target.$transaction, target, args);
            }
          : Reflect.get(target, key, target),
    }),
  });
  const resubmit = async (runId: string) => {
    await withdrawRun(registry, tester, { runId });
    const { draftVersion } = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    await submitRun(registry, tester, { runId, draftVersion });
  };

  it('a revision sent after the reviewer read the last one is not decided with it', async () => {
    const { runId } = await submitted(registry, tester, nextForm());
    await claimRun(registry, reviewer, { runId });
    const meanwhile = interrupted(async () => {
      await resubmit(runId);
      await claimRun(registry, reviewer, { runId });
    });
    await expect(
      decideReview(meanwhile, reviewer, { runId, revisionNumber: 1, kind: 'approve' }),
    ).rejects.toThrow(Conflict);
    const run = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    expect(run).toMatchObject({ status: 'submitted', approvedRevision: null });
  });

  it('a run taken back is not claimed', async () => {
    const { runId } = await submitted(registry, tester, nextForm());
    const meanwhile = interrupted(() => withdrawRun(registry, tester, { runId }));
    await expect(claimRun(meanwhile, reviewer, { runId })).rejects.toThrow(Conflict);
    expect(await prisma.reviewClaim.count({ where: { runId } })).toBe(0);
  });

  it('a photo that arrives after the submission is refused', async () => {
    const draft = await startDraft(registry, tester, {
      creationKey: 'photo-after-submission',
      form: completeForm(nextForm()),
    });
    const { runId, draftVersion } = draft;
    const meanwhile = interrupted(() => submitRun(registry, tester, { runId, draftVersion }));
    const bytes = await somePhoto();
    await expect(addEvidence(meanwhile, tester, { runId, kind: 'startDisplay', bytes })).rejects.toThrow(
      Conflict,
    );
    expect(await prisma.evidenceFile.count({ where: { runId } })).toBe(0);
  });

  it('a photo that arrives while the run is submitted is not left out of its revision', async () => {
    const { runId, draftVersion } = await startDraft(registry, tester, {
      creationKey: 'photo-amid-submission',
      form: completeForm(nextForm()),
    });
    const bytes = await somePhoto();
    const meanwhile = interrupted(() =>
      addEvidence(registry, tester, { runId, kind: 'startDisplay', bytes }),
    );
    await expect(submitRun(meanwhile, tester, { runId, draftVersion })).rejects.toThrow(Conflict);
    await submitRun(registry, tester, { runId, draftVersion });
    expect(await prisma.revisionEvidence.count({ where: { revision: { runId } } })).toBe(1);
  });
});

describe('a setup sent twice at once', () => {
  it('is made once, with its level', async () => {
    const tester = await person(registry, 'Double Press');
    const { modelId } = await vehicleOf(registry, tester, 'Dunlin');
    const level = { modelId, factor: 'rideHeight', label: 'highest' };
    const levels = await Promise.all([1, 2, 3].map(() => addFactorLevel(registry, tester, level)));
    expect(new Set(levels.map(({ levelId }) => levelId)).size).toBe(1);
    const setup = { modelId, levelIds: [levels[0]?.levelId] };
    const setups = await Promise.all([1, 2, 3].map(() => addSetup(registry, tester, setup)));
    expect(new Set(setups.map(({ setupId }) => setupId)).size).toBe(1);
  });
});

describe('a level of a factor', () => {
  it('is another one where only its sign is, or in another script, and one that is there by an older key', async () => {
    const tester = await person(registry, 'Sign Keeper');
    const { modelId } = await vehicleOf(registry, tester, 'Knot');
    const add = async (label: string) =>
      (await addFactorLevel(registry, tester, { modelId, factor: 'tyrePressure', label })).levelId;
    const labels = ['+0.2 bar', '−0.2 bar', '低い', '高い'];
    const ids = [];
    for (const label of labels) ids.push(await add(label));
    expect(new Set(ids).size).toBe(labels.length);
    await prisma.factorLevel.update({ where: { id: ids[1] as string }, data: { key: '0-2-bar' } });
    expect(await add('−0.2 bar')).toBe(ids[1]);
    expect(ids).not.toContain(await add('0.2 bar'));
  });
});

describe('the record', () => {
  it.each(['Finding', 'RevisionEvidence'])('keeps each %s as it was written', async (table) => {
    expect(await prisma.finding.count()).toBeGreaterThan(0);
    expect(await prisma.revisionEvidence.count()).toBeGreaterThan(0);
    await expect(prisma.$executeRawUnsafe(`DELETE FROM "${table}"`)).rejects.toThrow(/append-only/);
    await expect(
      prisma.$executeRawUnsafe(`UPDATE "${table}" SET "revisionId" = "revisionId"`),
    ).rejects.toThrow(/append-only/);
  });

  it('is not emptied as a whole', async () => {
    await expect(prisma.$executeRawUnsafe('TRUNCATE "AuditEntry"')).rejects.toThrow(/append-only/);
    await expect(prisma.$executeRawUnsafe('TRUNCATE "Run" CASCADE')).rejects.toThrow(/append-only/);
  });
});

describe('a car’s name', () => {
  // Made up; the check digit does not hold.
  it.each(['ZZZAB1CD2EF345678', 'VIN: ZZZAB1CD2EF345678', 'zzz-ab1cd2-ef345678'])(
    'is refused where it holds an identification number: %s',
    async (name) => {
      const tester = await prisma.account.findFirstOrThrow({ where: { role: 'tester', world: 'record' } });
      const model = await prisma.vehicleModel.findFirstOrThrow({ where: { world: 'record' } });
      const actor: Actor = { accountId: tester.id, role: 'tester' };
      await expect(addCar(registry, actor, { modelId: model.id, name })).rejects.toMatchObject({
        issues: [{ path: 'name' }],
      });
    },
  );

  it('may be seventeen letters long all the same', async () => {
    const tester = await prisma.account.findFirstOrThrow({ where: { role: 'tester', world: 'record' } });
    const model = await prisma.vehicleModel.findFirstOrThrow({ where: { world: 'record' } });
    const actor: Actor = { accountId: tester.id, role: 'tester' };
    await expect(
      addCar(registry, actor, { modelId: model.id, name: 'Grandfather-wagen' }),
    ).resolves.toBeDefined();
  });
});
