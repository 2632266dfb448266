import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderBlobStore } from '@/lib/files/folderBlobStore';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { readParts } from '@/lib/reduction/stored';
import { signIn } from '@/lib/registry/accounts/signIn';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { checkCounted } from '@/lib/registry/counted/checkCounted';
import { readIntervals } from '@/lib/registry/holds/intervals';
import type { Registry } from '@/lib/registry/registry';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { DEMO, worldKey } from '@/lib/run/world';
import { readPairDetails } from '@/lib/stats/otherWays/stored';
import { publishFitCheck } from '@/lib/store/fitChecks';
import { currentFit } from '@/lib/store/fits';
import { sharedSessionCells } from '@/lib/store/pairedRuns';
import { DemoLoadBroken, loadDemoWorld } from '@/prisma/demo/loadDemoWorld';
import type { DemoRun, DemoWorld } from '@/prisma/demo/world/types';
import { freshDatabase } from '@/test/helpers/database';
import { differences } from '../../lib/reduction/golden/goldenTable';
import { publishedFits, readDemoFit, writeDemoFit } from './demoFit';

const PASSWORD = 'quiet-lantern-over-gravel';
const { prisma } = await freshDatabase();
const folder = await mkdtemp(join(tmpdir(), 'evenloop-demo-'));
const registry: Registry = {
  db: prisma,
  blobs: folderBlobStore(folder),
  now: () => new Date('2026-11-20T12:00:00Z'),
  world: 'record',
};
const lines: string[] = [];
let world: DemoWorld;

beforeAll(async () => {
  world = await loadDemoWorld(registry, {
    password: PASSWORD,
    scale: 'small',
    report: (line) => lines.push(line),
  });
  // a minute on a machine of its own, more where others use it too
}, 300_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The status that a run of the world must have come to. */
function expectedStatus(run: DemoRun): string {
  if (run.draftForm !== undefined) return 'draft';
  if (run.retraction !== undefined) return 'retracted';
  const kind = run.revisions.at(-1)?.review?.kind;
  if (kind === undefined) return 'submitted';
  return { approve: 'approved', askChanges: 'changesAsked', reject: 'rejected' }[kind];
}

function storedRuns() {
  return prisma.run.findMany({
    select: {
      creationKey: true,
      status: true,
      world: true,
      submittedAt: true,
      approvedRevision: true,
      evidence: { select: { kind: true } },
      claims: { select: { releasedAt: true } },
      revisions: {
        orderBy: { number: 'asc' },
        select: {
          number: true,
          findings: { select: { ruleId: true, outcome: true } },
          normalisations: { select: { isNormalised: true } },
          decisions: { select: { kind: true, reasons: { select: { ruleId: true, text: true } } } },
        },
      },
    },
  });
}

describe('what is asked of a fit once it stands', () => {
  it('is whether its intervals hold, in counts that add up', async () => {
    const view = await readIntervals(registry, { classKey: 'kmh-110', world: 'demo' });
    const { held, fit, names } = view ?? {};
    expect((held?.runs.predicted ?? 0) + (held?.runs.notPredicted ?? 0)).toBe(fit?.runCount);
    expect(held?.runs.predicted).toBeGreaterThan(10);
    expect(held?.histogram.reduce((sum, n) => sum + n, 0)).toBe(held?.runs.predicted);
    // Every car, tester and loop that is spoken of has a name.
    for (const { key } of held?.dispersion ?? []) expect(names?.get(key)).toBeTruthy();
  });

  it('is every difference computed other ways, as measured like the plain fit of what was measured', async () => {
    const pair = await prisma.contrast.findFirstOrThrow({
      where: { fit: { isCurrent: true, group: { cruiseClassKey: 'kmh-110' } }, word: { not: null } },
      include: { setupA: true, setupB: true },
    });
    const view = await readComparison(registry, {
      classKey: 'kmh-110',
      world: 'demo',
      setupSlugs: [pair.setupA.slug, pair.setupB.slug],
      wanted: { percent: 2, power: 0.8 },
    });
    const [difference] = view?.differences ?? [];
    const ways = new Map(difference?.otherWays?.ways.map((one) => [one.way, one]));
    expect([...ways.keys()]).toEqual(
      expect.arrayContaining(['asMeasured', 'withoutWind', 'withoutAir', 'sameSession']),
    );
    // The baseline is A: the other way round than stored.
    const stored = readPairDetails(pair.details).otherWays?.ways.find(({ way }) => way === 'asMeasured');
    expect(ways.get('asMeasured')?.difference).toBe(-(stored?.difference ?? Number.NaN));
    expect(Math.abs((stored?.difference ?? 1) - (pair.differenceLog ?? 0))).toBeLessThan(0.2);
  });

  it('is kept with the fit that it was asked of, and not with one that has taken its place', async () => {
    const group = { cruiseClassKey: 'kmh-110', world: DEMO };
    const fit = await currentFit(prisma, group);
    const { held } = (await readIntervals(registry, { classKey: 'kmh-110', world: 'demo' })) ?? {};
    if (held === undefined) throw new Error('not asked');
    const check = { fitId: fit?.id ?? '', computedAt: new Date(), durationMs: 1, result: held, pairs: [] };
    await prisma.fit.update({ where: { id: check.fitId }, data: { isCurrent: false } });
    expect(await publishFitCheck(prisma, check)).toBe(false);
    await prisma.fit.update({ where: { id: check.fitId }, data: { isCurrent: true } });
    expect((await readIntervals(registry, { classKey: 'kmh-110', world: 'demo' }))?.held).toBeDefined();
  });

  it('was not asked of an older fit, and the page says so', async () => {
    const kept = await prisma.fitCheck.findMany();
    await prisma.fitCheck.deleteMany();
    const view = await readIntervals(registry, { classKey: 'kmh-110', world: 'demo' });
    expect(view?.fit).not.toBeNull();
    expect(view?.held).toBeUndefined();
    await prisma.fitCheck.createMany({ data: kept.map((one) => ({ ...one, result: one.result ?? {} })) });
  });
});

describe('loading the demo world', () => {
  it('brings every run to the state that its story ends in', async () => {
    const stored = new Map((await storedRuns()).map((run) => [run.creationKey, run]));
    expect(stored.size).toBe(world.runs.length);
    for (const run of world.runs) {
      expect(stored.get(run.key)?.status, run.key).toBe(expectedStatus(run));
      expect(stored.get(run.key)?.revisions, run.key).toHaveLength(run.revisions.length);
    }
    const statuses = new Set([...stored.values()].map((run) => run.status));
    expect([...statuses].sort()).toEqual(['approved', 'draft', 'rejected', 'retracted', 'submitted']);
  });

  it('marks everything as demo', async () => {
    const counts = await Promise.all([
      prisma.run.count({ where: { world: 'record' } }),
      prisma.account.count({ where: { world: 'record' } }),
      prisma.vehicleModel.count({ where: { world: 'record' } }),
      prisma.setup.count({ where: { world: 'record' } }),
      prisma.car.count({ where: { world: 'record' } }),
      prisma.loop.count({ where: { world: 'record' } }),
      prisma.comparisonGroup.count({ where: { world: 'record' } }),
    ]);
    expect(counts).toEqual([0, 0, 0, 0, 0, 0, 0]);
  });

  it('lets reviewers approve only what fails no rule, and answer every failed rule otherwise', async () => {
    let refused = 0;
    for (const { creationKey, revisions } of await storedRuns()) {
      for (const { findings, decisions, normalisations } of revisions) {
        const failed = findings
          .filter((finding) => finding.outcome === 'fail')
          .map((finding) => finding.ruleId);
        expect(findings.length, creationKey).toBeGreaterThan(20);
        expect(normalisations, creationKey).toHaveLength(1);
        for (const { kind, reasons } of decisions) {
          if (kind === 'approve') {
            expect(failed, creationKey).toEqual([]);
            continue;
          }
          refused += 1;
          expect(reasons.length, creationKey).toBeGreaterThan(0);
          expect(reasons.map((reason) => reason.ruleId)).toEqual(expect.arrayContaining(failed));
          for (const { text } of reasons) expect(text.length).toBeGreaterThan(20);
        }
      }
    }
    expect(refused).toBe(4);
  });

  it('finds the photos of a run that was sent twice on the second, and no other photo on two runs', async () => {
    const found = (await storedRuns()).filter(({ revisions }) =>
      revisions.some(({ findings }) =>
        findings.some(({ ruleId, outcome }) => ruleId.endsWith('same-picture') && outcome !== 'pass'),
      ),
    );
    const planted = world.runs.filter(({ revisions }) =>
      revisions.some(({ fault }) => fault === 'duplicate'),
    );
    expect(found.map(({ creationKey }) => creationKey).sort()).toEqual(planted.map(({ key }) => key).sort());
  });

  it('leaves what waits in the queue unclaimed, with its photos', async () => {
    const waiting = (await storedRuns()).filter((run) => run.status === 'submitted');
    expect(waiting).toHaveLength(2);
    for (const run of waiting) expect(run.claims).toEqual([]);
    const lacking = waiting.filter((run) => !run.evidence.some((file) => file.kind === 'finishDisplay'));
    expect(lacking).toHaveLength(1);
  });

  it('does everything at its own time', async () => {
    const entries = await prisma.auditEntry.findMany({ select: { at: true, action: true } });
    const last = Math.max(...entries.map((entry) => entry.at.getTime()));
    expect(last).toBeLessThan(Date.UTC(2026, 10, 10));
    expect(Math.min(...entries.map((entry) => entry.at.getTime()))).toBeGreaterThan(Date.UTC(2025, 7, 1));
    const byKey = new Map((await storedRuns()).map((run) => [run.creationKey, run]));
    for (const run of world.runs) {
      const sent = run.revisions.at(-1)?.submittedAt;
      expect(byKey.get(run.key)?.submittedAt?.toISOString()).toBe(sent);
    }
  });

  it('fits the rankings of the approved runs', async () => {
    const fits = await prisma.fit.findMany({
      where: { isCurrent: true },
      select: { runCount: true, converged: true, _count: { select: { estimates: true, contrasts: true } } },
    });
    const approved = world.runs.filter((run) => expectedStatus(run) === 'approved');
    expect(fits).toHaveLength(1);
    expect(fits[0]?.runCount).toBe(approved.length);
    expect(fits[0]?.converged).toBe(true);
    expect(fits[0]?._count.estimates).toBe(new Set(approved.map((run) => run.setupKey)).size);
    expect(await prisma.job.count({ where: { state: { not: 'done' } } })).toBe(0);
  });

  it('publishes the numbers that it always did under this version of the method', async () => {
    const published = await publishedFits(prisma);
    // Only where this version has no table yet; read again, so that what was written is what is held.
    if (process.env.WRITE_DEMO_FIT !== undefined) await writeDemoFit(METHOD_VERSION, published);
    expect(differences(await readDemoFit(METHOD_VERSION), published)).toEqual([]);
  });

  it('says of each setup in a session what its runs share with the rest of the day, as summed up by hand', async () => {
    const rows = await prisma.countedRun.findMany({ where: { z: { not: null } } });
    const [first] = rows;
    if (first === undefined) throw new Error('nothing counts');
    const { world, methodVersion, cruiseClassKey, modelId } = first;
    const of = { world: worldKey(world), methodVersion, cruiseClassKey, modelId };
    const cells = await sharedSessionCells(prisma, of, 4e-5);
    expect(cells.length).toBeGreaterThan(4);
    expect(cells.some(({ shared }) => Object.keys(shared).length > 3)).toBe(true);
    for (const { sessionId, setupId, variance, shared } of cells) {
      const own = rows.filter((row) => row.sessionId === sessionId && row.setupId === setupId);
      const weights = own.map(({ u }) => 1 / (4e-5 + (u ?? 0) ** 2));
      const total = weights.reduce((sum, w) => sum + w, 0);
      expect(variance * total).toBeCloseTo(1, 10);
      const sums = new Map<string, number>();
      own.forEach(({ parts }, i) => {
        for (const { scope, input, key, contribution } of readParts(parts) ?? []) {
          if (scope !== 'car' && scope !== 'session') continue;
          const name = `${scope} ${input} ${key}`;
          sums.set(name, (sums.get(name) ?? 0) + ((weights[i] as number) * contribution) / total);
        }
      });
      expect(new Set(Object.keys(shared))).toEqual(new Set(sums.keys()));
      for (const [name, mean] of sums) expect(shared[name]).toBeCloseTo(mean, 12);
    }
  });

  it('has a row for each run that counts, as the record says', async () => {
    const [, demo] = await checkCounted(registry);
    expect(demo).toMatchObject({ world: 'demo', differences: [] });
    expect(demo?.approved).toBeGreaterThan(40);
  });

  it('opens accounts that can sign in with their roles', async () => {
    for (const { email, role } of world.people.filter((person) =>
      ['mateo', 'petra', 'anouk'].includes(person.key),
    )) {
      const signedIn = await signIn(registry, { email, password: PASSWORD });
      expect(signedIn).toMatchObject({ role });
    }
  });

  it('reports as it goes and refuses to load twice, or for one who is no steward', async () => {
    expect(lines.some((line) => line.includes('16 accounts'))).toBe(true);
    const steward = await actorOf('petra@averil.example');
    const load = (actor?: Actor) =>
      loadDemoWorld(registry, { password: PASSWORD, scale: 'small', ...(actor && { steward: actor }) });
    await expect(load(steward)).rejects.toBeInstanceOf(Conflict);
    await expect(load()).rejects.toBeInstanceOf(NotAllowed);
    await expect(load(await actorOf('anouk@averil.example'))).rejects.toBeInstanceOf(NotAllowed);
  });

  it('refuses a weak password before it writes anything', async () => {
    await prisma.setting.delete({ where: { key: 'demoWorld' } });
    const steward = await actorOf('petra@averil.example');
    await expect(loadDemoWorld(registry, { password: 'demo', steward })).rejects.toBeInstanceOf(InvalidInput);
    expect(await prisma.setting.count({ where: { key: 'demoWorld' } })).toBe(0);
  });

  it('says where it broke off, and that what is there stays', async () => {
    const options = {
      password: PASSWORD,
      scale: 'small',
      steward: await actorOf('petra@averil.example'),
    } as const;
    const attempt = loadDemoWorld(registry, options);
    await expect(attempt).rejects.toBeInstanceOf(DemoLoadBroken);
    await expect(attempt).rejects.toThrow(/broke off while opening the accounts.*stays, marked as demo/);
    await expect(loadDemoWorld(registry, options)).rejects.toThrow(/broke off half-way/);
  });
});

async function actorOf(email: string): Promise<Actor> {
  const account = await prisma.account.findUniqueOrThrow({
    where: { email },
    select: { id: true, role: true },
  });
  return { accountId: account.id, role: account.role };
}
