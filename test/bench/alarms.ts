import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chiSquareLower } from '@/lib/numerics/distributions';
import { createRandom, type Random, shuffle } from '@/lib/numerics/random';
import type { Neighbourhood, RunFacts, Scatter } from '@/lib/protocol/facts';
import type { Outcome, Rule } from '@/lib/protocol/rule';
import { NEIGHBOUR_RULES, SPREAD_RULES } from '@/lib/protocol/rules/neighbours';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { readSnapshot } from '@/lib/reduction/stored';
import type { Registry } from '@/lib/registry/registry';
import { neighbourhoodOf, type RunToHold } from '@/lib/registry/runs/neighbourhood';
import { worldKey } from '@/lib/run/world';
import { testLastDigits } from '@/lib/stats/plausibility';

/**
 * How often the rules that hold a run against others cry wolf, and how often they find what was forged: over the demo
 * world, where one duplicate was sent in on purpose and nothing else is wrong, and over seeded forgeries of its runs.
 * With EVENLOOP_DATA over the demo world there.
 */
const FORGED = 60;
const SEED = 13;
const SOMEBODY = '00000000-0000-7000-8000-000000000001';

const RULES: readonly Rule[] = [...NEIGHBOUR_RULES, ...SPREAD_RULES];
const isAlarm = (outcome: Outcome) => outcome === 'caution' || outcome === 'fail';

function outcomeOf(id: string, record: RunToHold['record'], neighbourhood: Neighbourhood): Outcome {
  const rule = RULES.find((one) => one.id === id) as Rule;
  // They look at nothing else of a run.
  const facts = { record, neighbourhood, photoTimes: [] } as unknown as RunFacts;
  return rule.evaluate(facts, NEWEST_VERSION.parameters as never).outcome;
}

interface Held extends RunToHold {
  isRight: boolean;
}

async function runsOf({ db }: Registry): Promise<Held[]> {
  const rows = await db.runRevision.findMany({
    where: { run: { world: 'demo', status: { not: 'draft' } } },
    orderBy: [{ submittedAt: 'asc' }, { id: 'asc' }],
    select: {
      submittedAt: true,
      inputs: { select: { snapshot: true } },
      findings: { where: { ruleId: 'not-duplicate' }, select: { outcome: true } },
      normalisations: { take: 1, select: { normalisedWhPerKm: true, uRunRelative: true } },
      run: { select: { id: true, testerId: true, world: true } },
    },
  });
  return rows.flatMap(({ inputs, run, submittedAt, findings, normalisations: [result] }) => {
    const read = inputs && readSnapshot(inputs.snapshot);
    if (!read?.ok) return [];
    const { normalisedWhPerKm = null, uRunRelative = null } = result ?? {};
    return {
      runId: run.id,
      testerId: run.testerId,
      world: worldKey(run.world),
      record: read.snapshot.record,
      own: normalisedWhPerKm && uRunRelative ? { z: Math.log(normalisedWhPerKm), u: uRunRelative } : null,
      hasRecording: read.snapshot.recording !== null,
      sentAt: submittedAt,
      isRight: findings.every(({ outcome }) => outcome === 'pass'),
    };
  });
}

/** The record with its readings, each by what `change` makes of it. */
function withReadings(record: RunToHold['record'], change: (value: number) => number): RunToHold['record'] {
  const readings = Object.fromEntries(
    Object.entries(record.readings).map(([quantity, own]) => [
      quantity,
      own && { ...own, value: change(own.value) },
    ]),
  );
  return { ...record, readings: readings as RunToHold['record']['readings'] };
}

type Forgery = (run: Held, random: Random) => Held;
const later = (run: Held, record: RunToHold['record']): Held => ({
  ...run,
  runId: SOMEBODY,
  record,
  sentAt: new Date('2030-01-01T00:00:00Z'),
});
const FORGERIES: readonly { what: string; rule: string; forge: Forgery }[] = [
  {
    what: 'a run word for word under another account',
    rule: 'copied-readings',
    forge: (run) => ({ ...later(run, { ...run.record, carId: SOMEBODY }), testerId: SOMEBODY }),
  },
  {
    what: 'the same with each number up to 0.1 % off',
    rule: 'nearly-copied-readings',
    forge: (run, random) => ({
      ...later(
        run,
        withReadings(run.record, (value) => value * (1 + 0.002 * (random.next() - 0.5))),
      ),
      testerId: SOMEBODY,
    }),
  },
  {
    what: 'the car on another loop twenty minutes later',
    rule: 'one-drive-at-a-time',
    forge: (run) =>
      later(run, {
        ...run.record,
        loopId: SOMEBODY,
        startedAt: new Date(Date.parse(run.record.startedAt) + 1_200_000).toISOString(),
      }),
  },
];

async function count(registry: Registry): Promise<void> {
  const runs = await runsOf(registry);
  const row = (cells: readonly (string | number)[]) =>
    console.log(
      `${String(cells[0]).padEnd(52)}${cells
        .slice(1)
        .map((cell) => String(cell).padStart(12))
        .join('')}`,
    );
  row([`the demo world, ${runs.length} revisions`, 'false', 'true', 'not checked']);
  const held = [];
  for (const run of runs) held.push({ run, found: await neighbourhoodOf(registry, run) });
  for (const { id } of RULES) {
    const outcomes = held.map(({ run, found }) => ({ run, outcome: outcomeOf(id, run.record, found) }));
    const alarms = outcomes.filter(({ outcome }) => isAlarm(outcome));
    row([
      id,
      alarms.filter(({ run }) => run.isRight).length,
      alarms.filter(({ run }) => !run.isRight).length,
      outcomes.filter(({ outcome }) => outcome === 'notChecked').length,
    ]);
  }
  row([`seeded forgeries, ${FORGED} of each`, 'found', '', '']);
  const random = createRandom(SEED);
  const complete = runs.filter(
    ({ record, isRight }) => isRight && record.readings.outboundEnergy && record.readings.tripDuration,
  );
  for (const { what, rule, forge } of FORGERIES) {
    let found = 0;
    for (const run of shuffle(complete, random).slice(0, FORGED)) {
      const forged = forge(run, random);
      if (isAlarm(outcomeOf(rule, forged.record, await neighbourhoodOf(registry, forged)))) found += 1;
    }
    row([`${what} (${rule})`, found]);
  }
  countMadeUp(runs, held, random, row);
}

type SpreadKind = 'spread' | 'spreadOfSetup' | 'spreadOfCluster';
type Told = Pick<Scatter, 'ratio' | 'dof'>;

/** What was told last of each, where enough could be told. */
function spreadsOf(
  held: readonly { run: Held; found: Neighbourhood }[],
  kind: SpreadKind,
  keyOf: (run: Held) => string,
): Scatter[] {
  const { fromDof } = NEWEST_VERSION.parameters[kind];
  const spreads = held.flatMap(({ run, found }) => {
    const spread = found[kind];
    const key = `${keyOf(run)} ${run.record.cruiseClassKey}`;
    return spread === null || spread.dof < fromDof ? [] : [[key, spread] as const];
  });
  return [...new Map(spreads).values()];
}

/** Both their χ² are of the same variance, so they add up. */
const pooled = (one: Told, other: Told): Told => {
  const dof = one.dof + other.dof;
  return { dof, ratio: (one.ratio * one.dof + other.ratio * other.dof) / dof };
};

/** Numbers made up: the tester's energies rounded to halves, and all runs of a cell drawn five times as near. */
function countMadeUp(
  runs: readonly Held[],
  held: readonly { run: Held; found: Neighbourhood }[],
  random: Random,
  row: (cells: readonly (string | number)[]) => void,
): void {
  const limits = NEWEST_VERSION.parameters;
  let digits = 0;
  for (let i = 0; i < FORGED; i++) {
    const made = Array.from({ length: 80 }, () =>
      random.next() < 0.5 ? 5 * Math.floor(2 * random.next()) : Math.floor(10 * random.next()),
    );
    if ((testLastDigits(made)?.pValue ?? 1) < limits.digits.passFromPValue) digits += 1;
  }
  row(['80 energies of which half end in 0 or 5 (last-digits)', digits]);
  const byTester = spreadsOf(held, 'spread', ({ testerId }) => testerId);
  const bySetup = spreadsOf(held, 'spreadOfSetup', ({ record }) => record.setupId);
  const nearer = ({ ratio, dof }: Scatter) => ({ ratio: ratio / 25, dof });
  const found = (some: readonly Told[], kind: SpreadKind) =>
    some.filter(({ ratio, dof }) => {
      const { fromDof, passFromPValue } = limits[kind];
      return dof >= fromDof && chiSquareLower(ratio * dof, dof) < passFromPValue;
    }).length;
  const narrow = byTester.map(nearer);
  row([
    `five times as near, of ${byTester.length} testers’ classes (spread-of-runs)`,
    found(narrow, 'spread'),
  ]);
  row([`of ${bySetup.length} setups (spread-of-setup)`, found(bySetup.map(nearer), 'spreadOfSetup')]);
  // the demo world has nobody who counts as one with another: its testers' runs dealt to three accounts each
  const dealt = narrow.map(({ ratio, dof }) => ({ ratio, dof: Math.floor(dof / 3) }));
  row(['dealt to three accounts, each by itself (spread-of-runs)', found(dealt, 'spread')]);
  row(['the three together (spread-of-cluster)', found(narrow, 'spreadOfCluster')]);
  const pairs = byTester.flatMap((one, i) => byTester.slice(i + 1).map((other) => pooled(one, other)));
  row([
    `false, of ${pairs.length} pairs of honest testers (spread-of-cluster)`,
    found(pairs, 'spreadOfCluster'),
  ]);
  console.log(
    `${runs.filter(({ isRight }) => !isRight).length} of the revisions were sent in twice on purpose.`,
  );
}

export async function bench(): Promise<void> {
  const given = process.env.EVENLOOP_DATA;
  const folder = given ?? mkdtempSync(join(tmpdir(), 'evenloop-alarms-'));
  Object.assign(process.env, { DATABASE_URL: '', EVENLOOP_DATABASE: '', EVENLOOP_DATA: folder });
  try {
    if (given === undefined)
      spawnSync(process.execPath, ['--import', 'tsx', 'lib/commands/seedDemo.ts'], {
        stdio: ['ignore', 'ignore', 'inherit'],
      });
    const { withStore } = await import('@/lib/commands/openStore');
    const { openRegistry } = await import('@/lib/registry/openRegistry');
    await withStore(async () => count(openRegistry()));
  } finally {
    if (given === undefined) rmSync(folder, { recursive: true, force: true });
  }
}
