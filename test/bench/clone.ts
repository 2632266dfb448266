import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { myNotifications } from '@/lib/registry/accounts/notifications';
import { readPeople } from '@/lib/registry/accounts/people';
import { readTester } from '@/lib/registry/accounts/tester';
import { readAuditLog } from '@/lib/registry/audit/auditLog';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { readHome } from '@/lib/registry/home/home';
import { readLoop } from '@/lib/registry/loops/loop';
import { readLoops } from '@/lib/registry/loops/loops';
import { readModel } from '@/lib/registry/models/model';
import { readModels } from '@/lib/registry/models/models';
import { refitGroup } from '@/lib/registry/rankings/refitGroup';
import type { Registry } from '@/lib/registry/registry';
import { readQueue } from '@/lib/registry/review/queue';
import { myRuns } from '@/lib/registry/runs/myRuns';
import { readRun } from '@/lib/registry/runs/run';
import { readRunList } from '@/lib/registry/runs/runList';
import { readSetup } from '@/lib/registry/setups/setup';
import type { Actor } from '@/lib/run/roles';
import { DEMO, worldKey } from '@/lib/run/world';
import { currentGroups } from '@/lib/store/fits';
import { cloneRuns } from '../helpers/cloneRuns';

const DEFAULT_RUNS = 20_000;
const TIMES = 3;

/**
 * What pages read from a registry with many runs: the demo world's are copied to about N (`-- clone 5000`), in a
 * database of its own. Bytes of each page's view as JSON, and the median time to read it.
 */
export async function bench(): Promise<void> {
  const wanted = Number(process.argv.find((argument) => /^\d+$/.test(argument)) ?? DEFAULT_RUNS);
  const folder = mkdtempSync(join(tmpdir(), 'evenloop-clone-'));
  Object.assign(process.env, { DATABASE_URL: '', EVENLOOP_DATABASE: '', EVENLOOP_DATA: folder });
  try {
    spawnSync(process.execPath, ['--import', 'tsx', 'lib/commands/seedDemo.ts'], {
      stdio: ['ignore', 'ignore', 'inherit'],
    });
    const { withStore } = await import('@/lib/commands/openStore');
    const { openRegistry } = await import('@/lib/registry/openRegistry');
    await withStore(async () => {
      const registry = openRegistry();
      const counted = await registry.db.countedRun.count();
      if (counted === 0) throw new Error('The demo world did not load.');
      await cloneRuns(registry.db, Math.max(1, Math.round(wanted / counted) - 1));
      console.log(`${await registry.db.countedRun.count()} counted runs`);
      for (const { group } of await currentGroups(registry.db)) await reportFit(registry, group);
      for (const [name, read] of Object.entries(await pagesOf(registry))) await report(name, read);
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The page of each kind with the most to read. */
async function pagesOf(registry: Registry): Promise<Record<string, () => Promise<unknown>>> {
  const { db } = registry;
  const most = async (by: 'setupId' | 'modelId' | 'loopId' | 'testerId') => {
    const [first] = await db.countedRun.groupBy({ by: [by], orderBy: { _count: { [by]: 'desc' } }, take: 1 });
    return (first as Record<typeof by, string>)[by];
  };
  const at = (id: string) => ({ where: { id }, select: { slug: true } }) as const;
  const setup = await db.setup.findUniqueOrThrow(at(await most('setupId')));
  const model = await db.vehicleModel.findUniqueOrThrow(at(await most('modelId')));
  const loop = await db.loop.findUniqueOrThrow(at(await most('loopId')));
  const testerId = await most('testerId');
  const tester = await db.account.findUniqueOrThrow(at(testerId));
  const siblings = await db.setup.findMany({
    where: { model: { slug: model.slug }, countedRuns: { some: {} } },
    orderBy: { slug: 'asc' },
    take: 3,
    select: { slug: true },
  });
  const { number } = await db.countedRun.findFirstOrThrow({ orderBy: { number: 'desc' } });
  // As read by the steward of the demo world, who may see all of it.
  const { id } = await db.account.findFirstOrThrow({ where: { role: 'steward', world: DEMO } });
  const actor: Actor = { accountId: id, role: 'steward', world: DEMO };
  const wanted = { percent: 2, power: 0.8 };
  return {
    home: () => readHome(registry, undefined),
    setup: () => readSetup(registry, setup.slug),
    model: () => readModel(registry, model.slug),
    loop: () => readLoop(registry, loop.slug),
    tester: () => readTester(registry, tester.slug),
    compare: () => readComparison(registry, { setupSlugs: siblings.map(({ slug }) => slug), wanted }),
    loops: () => readLoops(registry),
    models: () => readModels(registry),
    people: () => readPeople(registry, actor),
    queue: () => readQueue(registry, actor, {}),
    audit: () => readAuditLog(registry, actor, {}),
    runs: () => readRunList(registry, {}),
    run: () => readRun(registry, undefined, number),
    'my runs': () => myRuns(registry, { accountId: testerId, role: 'tester', world: DEMO }),
    notices: () => myNotifications(registry, { accountId: testerId, role: 'tester', world: DEMO }),
  };
}

/** What pages say of single runs is made with the fit, which has to know of the clones. */
async function reportFit(registry: Registry, group: { world: string; cruiseClass: { key: string } }) {
  const from = performance.now();
  const fit = await refitGroup(registry, {
    cruiseClassKey: group.cruiseClass.key,
    world: worldKey(group.world),
  });
  const tookS = (performance.now() - from) / 1000;
  console.log(`fit of ${fit.nUsed} runs at ${group.cruiseClass.key}: ${tookS.toFixed(1)} s`);
}

async function report(name: string, read: () => Promise<unknown>): Promise<void> {
  const tookMs: number[] = [];
  let view: unknown;
  for (let i = 0; i < TIMES; i += 1) {
    const from = performance.now();
    view = await read();
    tookMs.push(performance.now() - from);
  }
  if (view === undefined) throw new Error(`There is no page for ${name}.`);
  const text = JSON.stringify(view, (_key, value) => (value instanceof Map ? [...value] : value));
  const medianMs = tookMs.sort((a, b) => a - b)[Math.floor(TIMES / 2)] ?? Number.NaN;
  console.log(
    `${name.padEnd(10)} ${String(Buffer.byteLength(text)).padStart(9)} bytes  ${medianMs.toFixed(0).padStart(6)} ms`,
  );
}
