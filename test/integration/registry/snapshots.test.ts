import { spawnSync } from 'node:child_process';
import { createPublicKey, generateKeyPairSync } from 'node:crypto';
import {
  createReadStream,
  createWriteStream,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import yazl from 'yazl';
import { digestOf } from '@/lib/files/blobStore';
import { sha256OfStream } from '@/lib/files/fileDigest';
import { choleskyFactor, type Matrix, solveCholesky } from '@/lib/numerics/smallMatrix';
import { cellText, jsonLine } from '@/lib/openData/cells';
import type { Column, Row, Table } from '@/lib/openData/column';
import { pathsOf, type TableFiles } from '@/lib/openData/dataPackage';
import { PYTHON_EXAMPLE, R_EXAMPLE } from '@/lib/openData/examples';
import { DEFAULT_LICENCE } from '@/lib/openData/licences';
import { TABLES } from '@/lib/openData/tables/allTables';
import { CONTRASTS, ESTIMATES, FITS } from '@/lib/openData/tables/fitTables';
import { RESULTS, RUNS } from '@/lib/openData/tables/runTables';
import { ROAD_LOADS } from '@/lib/openData/tables/thingTables';
import { readDescriptor } from '@/lib/openData/verify/about';
import { checkFits } from '@/lib/openData/verify/checkFits';
import { checkRuns } from '@/lib/openData/verify/checkRuns';
import { checkTable, type KnownKeys } from '@/lib/openData/verify/checkTable';
import { type Difference, Differences } from '@/lib/openData/verify/difference';
import { methodOf } from '@/lib/openData/verify/methodOf';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import type { RunPart } from '@/lib/reduction/runParts';
import { choosePublishedDays } from '@/lib/registry/accounts/publishedDays';
import { addCar } from '@/lib/registry/cars/addCar';
import { mergeCars } from '@/lib/registry/cars/mergeCars';
import { methodInEffect } from '@/lib/registry/method/methodInEffect';
import { chooseLicence, chosenLicence } from '@/lib/registry/openData/licence';
import { publishSnapshot, SNAPSHOT_JOB } from '@/lib/registry/openData/publishSnapshot';
import { openSnapshot, readSnapshots } from '@/lib/registry/openData/snapshots';
import { verifySnapshot } from '@/lib/registry/openData/verifySnapshot';
import { NotSettled, type SnapshotSource, writeSnapshot } from '@/lib/registry/openData/writeSnapshot';
import { CLEAR_OTHER_JOB, checkOther, clearOther } from '@/lib/registry/otherRegistries/checkOther';
import { acceptKey, removeOther } from '@/lib/registry/otherRegistries/decideKey';
import { readOtherRanking } from '@/lib/registry/otherRegistries/otherRanking';
import { readOtherRun } from '@/lib/registry/otherRegistries/otherRun';
import { readOtherSetup } from '@/lib/registry/otherRegistries/otherSetup';
import { readOthers } from '@/lib/registry/otherRegistries/others';
import { CHECK_OTHER_JOB, uploadOther } from '@/lib/registry/otherRegistries/receive';
import { runJobsNow } from '@/lib/registry/runJobs';
import { addEvidence } from '@/lib/registry/runs/addEvidence';
import { renormaliseAll } from '@/lib/registry/runs/renormaliseAll';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { attachTrace } from '@/lib/registry/traces/attachTrace';
import { Conflict, InvalidInput, NotAllowed, NotFound, TooLarge } from '@/lib/run/errors';
import { methodLabel } from '@/lib/run/methodVersion';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { publishMethodVersion } from '@/lib/store/methodVersions';
import { sealKey } from '@/lib/store/server/keptSecret';
import { freshDatabase } from '@/test/helpers/database';
import { recording } from '@/test/helpers/recordings';
import { completeForm } from '@/test/helpers/runForms';
import {
  approve,
  approved,
  loopOf,
  person,
  registryOn,
  somePhoto,
  vehicleOf,
} from '@/test/helpers/smallRegistry';
import {
  filesOf,
  type Members,
  membersOf,
  rowsOf,
  signedAnew,
  writeMembers,
} from '@/test/helpers/snapshotFiles';

const { prisma, connection } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
const folder = mkdtempSync(join(tmpdir(), 'evenloop-snapshots-'));
const { privateKey } = generateKeyPairSync('ed25519');
const first = join(folder, 'first.zip');

afterAll(() => {
  remove();
  rmSync(folder, { recursive: true, force: true });
});

const source = async (): Promise<SnapshotSource> => ({
  connection,
  world: RECORD,
  method: await methodInEffect(prisma, RECORD),
  licence: DEFAULT_LICENCE,
  privateKey,
});

let tester: Actor;
let reviewer: Actor;
let written: Awaited<ReturnType<typeof writeSnapshot>>;
let members: Members;

const SECRET_NOTE = 'Met the neighbour on the way';

/** Three cars of one model at two levels on two days, one run with a recording, one retracted; a study; a learned road load. */
beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  const other = await person(registry, 'Ivo Brandt');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const curator = await person(registry, 'Noor Vale', 'steward');
  const vehicle = await vehicleOf(registry, tester);
  const { modelId, baselineId, lowId } = vehicle;
  const loopId = await loopOf(registry, tester);
  const form = { loopId, notes: SECRET_NOTE };
  const runs: string[] = [];
  // entered twice: found to be one vehicle once its runs count
  const again = await addCar(registry, tester, {
    modelId,
    name: 'Skerry again',
    placardFrontPa: 290_000,
    placardRearPa: 290_000,
  });
  for (const [at, owner] of [tester, tester, other].entries()) {
    const carId =
      at === 0 ? vehicle.carId : (await addCar(registry, owner, { modelId, name: `Car ${at}` })).carId;
    for (const day of ['2026-06-01', '2026-06-03'])
      for (const [hour, setupId] of [
        ['09', baselineId],
        ['12', lowId],
      ] as const) {
        const energy = 32.9 + 0.2 * at + (setupId === lowId ? -0.5 : 0) + (day.endsWith('3') ? 0.1 : 0);
        const { runId } = await approved(registry, owner, reviewer, {
          ...form,
          carId: at === 0 && day.endsWith('3') ? again.carId : carId,
          setupId,
          startedAtLocal: `${day}T${hour}:00`,
          tripEnergy: energy.toFixed(1),
          tripEfficiency: (66.8 / Number(energy.toFixed(1))).toFixed(2),
        });
        runs.push(runId);
      }
  }
  const reason = 'It was entered a second time by mistake.';
  await mergeCars(registry, curator, { key: again.carId, intoKey: vehicle.carId, reason });
  const draft = await startDraft(registry, tester, {
    creationKey: crypto.randomUUID(),
    form: completeForm({
      ...form,
      carId: vehicle.carId,
      setupId: lowId,
      odometerStart: '29417',
      odometerStartUnit: 'km',
    }),
  });
  for (const kind of ['startDisplay', 'finishDisplay'])
    await addEvidence(registry, tester, { runId: draft.runId, kind, bytes: await somePhoto() });
  await attachTrace(registry, tester, { runId: draft.runId, bytes: recording() });
  const sent = await submitRun(registry, tester, { runId: draft.runId, draftVersion: draft.draftVersion });
  await approve(registry, reviewer, { runId: draft.runId, ...sent });
  const steward = await prisma.account.findFirstOrThrow({ where: { role: 'steward' } });
  await retractRun(
    registry,
    { accountId: steward.id, role: 'steward' },
    { runId: runs[1], reason: 'The loop was closed halfway.' },
  );
  const study = await prisma.study.create({
    data: {
      slug: 'ride-height',
      world: RECORD,
      question: `What does it do? ${SECRET_NOTE}`,
      state: 'complete',
      ownerId: tester.accountId,
      modelId,
      loopId,
      cruiseClassKey: 'mph-70',
      createdAt: registry.now(),
      beganAt: registry.now(),
      endedAt: registry.now(),
      versions: {
        create: {
          number: 1,
          plan: { question: SECRET_NOTE, baselineId, power: 0.8 },
          madeById: tester.accountId,
          madeAt: registry.now(),
        },
      },
    },
  });
  await prisma.studyRun.create({
    data: {
      runId: runs[0] as string,
      studyId: study.id,
      version: 1,
      wasChosen: false,
      addedAt: registry.now(),
      addedById: tester.accountId,
    },
  });
  const learned = await prisma.learnedRoadLoad.create({
    data: { modelId, isCurrent: true, runCount: 9, beatsPriors: true, result: {} },
  });
  await prisma.$transaction((tx) =>
    publishMethodVersion(tx, {
      label: methodLabel(METHOD_VERSION, { ordinal: 1, world: RECORD }),
      engine: METHOD_VERSION,
      world: RECORD,
      ordinal: 1,
      adoptedAt: registry.now(),
      adoptedById: steward.id,
      summary: 'Learned from nine runs.',
      roadLoads: [
        {
          modelId,
          learnedRoadLoadId: learned.id,
          runCount: 9,
          gainPerRun: 0.4,
          posterior: {
            mean: [1.3, 0.012, 700],
            covariance: [
              [0.004, -0.00001, 0],
              [-0.00001, 0.000001, 0],
              [0, 0, 10_000],
            ],
          },
          levels: [],
        },
      ],
    }),
  );
  await choosePublishedDays(registry, other, { publishedDays: 'month' });
  await renormaliseAll(registry);
  await runJobsNow(registry);
  written = await writeSnapshot(await source(), first);
  members = await membersOf(first);
}, 120_000);

describe('a snapshot', () => {
  it('is the same to the byte from the same record', async () => {
    const again = join(folder, 'again.zip');
    expect(await writeSnapshot(await source(), again)).toEqual(written);
    expect(readFileSync(again).equals(readFileSync(first))).toBe(true);
  });

  it('verifies without the database', async () => {
    const found = await verifySnapshot(first, { trusted: [createPublicKey(privateKey)] });
    expect(found.differences).toEqual([]);
    expect(found).toMatchObject({ count: 0, runs: 13, name: written.name });
    expect(found.notRecomputed).toBeUndefined();
  });

  it('has rows in every table, and every column at least once', () => {
    const empty = TABLES.flatMap((table) => {
      const rows = kept(table);
      return table.columns
        .filter(
          ({ name, isRequired }) =>
            !rows.some((row) => row[name] !== null) && (isRequired || rows.length === 0),
        )
        .map(({ name }) => `${table.name}.${name}`);
    });
    expect(empty).toEqual([]);
  });

  it('holds nobody’s name or address, no name that somebody gave, and nothing written freely', () => {
    const whole = Buffer.concat([...members.values()]).toString('utf8');
    for (const text of [
      'Mira',
      'Holm',
      'people.example',
      'Skerry',
      'causeway',
      SECRET_NOTE,
      'closed halfway',
      'Outer Isles',
    ])
      expect(whole).not.toContain(text);
  });

  it('is not taken while numbers are being computed', async () => {
    await prisma.job.create({
      data: {
        id: crypto.randomUUID(),
        kind: 'refit',
        key: 'record/mph-70',
        runAfter: registry.now(),
        queuedAt: registry.now(),
      },
    });
    await expect(writeSnapshot(await source(), join(folder, 'never.zip'))).rejects.toBeInstanceOf(NotSettled);
    await runJobsNow(registry);
  });

  it('is refused where the key is not one that is trusted', async () => {
    const trusted = [generateKeyPairSync('ed25519').publicKey];
    expect((await verifySnapshot(first, { trusted })).differences[0]?.where).toBe('signature.json');
  });
});

/** The first number in it, moved by a millionth; undefined where it holds none. */
function withNumberMoved(value: unknown): unknown {
  if (typeof value === 'number') return value === 0 ? 1e-3 : value * (1 + 1e-6);
  if (typeof value !== 'object' || value === null) return undefined;
  for (const [name, its] of Object.entries(value)) {
    const moved = withNumberMoved(its);
    if (moved === undefined) continue;
    return Array.isArray(value) ? value.with(Number(name), moved) : { ...value, [name]: moved };
  }
  return undefined;
}

/** Of nothing, and before every other in the order of a key. */
const NOBODY = '00000000-0000-7000-8000-000000000000';

/** Another value that the column might have held. */
function altered(column: Column, value: unknown): unknown {
  switch (column.type) {
    case 'integer':
      return typeof value === 'number' ? value + 1 : 7;
    case 'number':
      return withNumberMoved(value) ?? 0.25;
    case 'boolean':
      return value !== true;
    case 'date':
      return '2026-06-02';
    case 'datetime':
      return '2026-06-02T10:00:00.000Z';
    case 'string':
      return typeof value === 'string' && /^[0-9a-f-]{36}$/.test(value) ? NOBODY : 'another';
    case 'array':
      return withNumberMoved(value) ?? ['another'];
    case 'object':
      return withNumberMoved(value) ?? { ...(value as object), another: 1 };
  }
}

/** The rows of a table with one cell altered: of the first row that counts and has something there. */
function rowsAltered(table: Table, column: Column): Row[] {
  const rows = kept(table);
  const isOf = (row: Row) => row[column.name] !== null && row.counts !== false;
  const at = Math.max(0, rows.findIndex(isOf));
  return rows.with(at, { ...rows[at], [column.name]: altered(column, rows[at]?.[column.name] ?? null) });
}

const COLUMNS = TABLES.flatMap((table) =>
  table.columns.map((column) => ({ table, column, name: `${table.name}.${column.name}` })),
);

/**
 * What nothing else in a snapshot says again, so that only digest and signature can tell: today's data sheets, what people
 * decided and when, plans, and what was kept along and enters no number (of a fit as small as this one, its seed and the
 * counts that it asks for; of its car, what tyres are to hold).
 */
const SAID_ONCE = [
  'protocol_versions.status',
  'protocol_versions.adopted_at',
  'protocol_versions.retired_at',
  'protocol_versions.parameters',
  'models.model_year',
  'models.body_class',
  'models.kerb_mass_kg',
  'models.usable_capacity_wh',
  'models.drag_area_m2',
  'models.has_heat_pump',
  'setup_levels.factor',
  'setup_levels.level_id',
  'setup_levels.is_baseline',
  'setup_levels.tyre_kind',
  'setup_levels.shared_level',
  'loops.length_m',
  'loops.length_uncertainty_m',
  'loops.altitude_m',
  'loops.net_climb_m',
  'loops.gross_climb_m',
  'loops.closure_distance_m',
  'loops.closure_height_m',
  'loops.shared_route_share',
  'loops.off_cruise_share',
  'loops.posted_limit_mps',
  'loops.bearings',
  'loop_legs.direction',
  'loop_legs.length_m',
  'loop_legs.net_climb_m',
  'loop_legs.bearings',
  'road_loads.adopted_in',
  'road_loads.runs',
  'runs.run_id',
  'runs.revision',
  'runs.submitted_at',
  'runs.decided_at',
  'readings.moment',
  'readings.instrument',
  'inputs.origin',
  'inputs.car',
  'recordings.recording_id',
  'recordings.distance_m',
  'recordings.gap_distance_m',
  'recordings.duration_s',
  'recordings.cruise_spread_mps',
  'recordings.cruise_duration_s',
  'recordings.cruise_within_band_share',
  'recordings.cruise_off_share',
  'recordings.closure_distance_m',
  'recordings.net_climb_m',
  'findings.outcome',
  'findings.numbers',
  'decisions.reviewer_id',
  'decisions.decision',
  'decisions.decided_at',
  'decisions.second_for',
  'decisions.rules',
  'fits.fitted_at',
  'fits.seed',
  'fits.least_runs',
  'fits.least_sessions',
  'fits.least_cars',
  'studies.state',
  'studies.owner_id',
  'studies.cruise_class',
  'studies.created_at',
  'studies.began_at',
  'studies.ended_at',
  'study_plans.plan_version',
  'study_plans.made_at',
  'study_plans.plan',
  'study_runs.run',
  'study_runs.plan_version',
  'study_runs.was_chosen',
  'study_runs.added_at',
];

/** Read once a table. */
const read = new Map<string, Row[]>();
function kept(table: Table): Row[] {
  const rows = read.get(table.name) ?? rowsOf(members, table);
  read.set(table.name, rows);
  return rows;
}

async function* each<Item>(items: readonly Item[]): AsyncGenerator<Item> {
  yield* items;
}

/** What a verifier says of rows, as they would come out of a file whose digests and signature were made anew. */
async function differencesOf(table: Table, rows: readonly Row[]): Promise<Difference[]> {
  const differences = new Differences();
  const of = (one: Table) => (one === table ? rows : kept(one));
  const known: KnownKeys = new Map();
  const references = TABLES.flatMap(({ refersTo }) => refersTo);
  for (const one of TABLES) {
    const isTouched = one === table || one.refersTo.some((reference) => reference.table === table.name);
    const isAsked = isTouched || references.some((reference) => reference.table === one.name);
    if (!isAsked) continue;
    const records = [
      one.columns.map(({ name }) => name),
      ...of(one).map((row) => one.columns.map((column) => cellText(column, row[column.name]))),
    ];
    const lines = of(one).map((row) => jsonLine(one, row).trimEnd());
    const referred = references.filter((reference) => reference.table === one.name);
    await checkTable(one, { csv: each(records), jsonLines: each(lines) }, { referred, known }, differences);
  }
  if (differences.count > 0 || !RECOMPUTED.includes(table.name)) return differences.told;
  const rowsIn = (one: Table) => each(of(one));
  const method = methodOf(written.about.methodVersion, of(ROAD_LOADS));
  if (method === undefined) return [{ where: 'road_loads', row: '', column: '', says: 'cannot be read' }];
  await checkFits(rowsIn, await checkRuns(rowsIn, method, differences), method.label, differences);
  return differences.told;
}

/** Whatever else is computed again is read from these. */
const RECOMPUTED = [
  'merges',
  'road_loads',
  'runs',
  'readings',
  'conditions',
  'inputs',
  'recordings',
  'results',
  'fits',
  'estimates',
  'contrasts',
];

/** Of a tester who publishes months. */
const inMonths = () => kept(RUNS).find((row) => row.month_only === true) as Row;

describe('whoever alters one cell', { timeout: 300_000 }, () => {
  it('of a run in months, so that it says more than its month, is found', async () => {
    const row = inMonths();
    const at = kept(RUNS).indexOf(row);
    for (const changed of [
      { local_date: '2026-06-03' },
      { started_at: '2026-06-03T08:00:00.000Z' },
      { month_only: false, local_date: '2026-06-03' },
    ])
      expect(await differencesOf(RUNS, kept(RUNS).with(at, { ...row, ...changed }))).not.toEqual([]);
  });

  it('is found by the digests, whichever it is', async () => {
    const stated = readDescriptor(String(members.get('datapackage.json')));
    if (typeof stated === 'string') throw new Error(stated);
    const file = join(folder, 'altered.zip');
    for (const { table, column, name } of COLUMNS) {
      const paths = pathsOf(table);
      const files = filesOf(table, rowsAltered(table, column));
      const { csv, jsonLines } = stated.files.get(table.name) as TableFiles;
      expect(digestOf(files.get(paths.csv) as Buffer), name).not.toBe(csv.sha256);
      expect(digestOf(files.get(paths.jsonLines) as Buffer), name).not.toBe(jsonLines.sha256);
      // the file as a whole, once a table
      if (column !== table.columns.at(-1)) continue;
      await writeMembers(new Map([...members, ...files]), file);
      const { differences } = await verifySnapshot(file);
      rmSync(file);
      expect(differences.map(({ where }) => where)).toEqual([paths.csv, paths.jsonLines]);
    }
  });

  it('and makes digests and signature anew is found by the numbers, wherever one says it', async () => {
    expect(await differencesOf(ROAD_LOADS, kept(ROAD_LOADS))).toEqual([]);
    const missed: string[] = [];
    for (const { table, column, name } of COLUMNS) {
      const found = await differencesOf(table, rowsAltered(table, column));
      if (found.length === 0) missed.push(name);
    }
    expect(missed).toEqual(SAID_ONCE);
  });

  it('in a file that is signed anew is named', async () => {
    const file = join(folder, 'forged.zip');
    const column = RESULTS.columns.find(({ name }) => name === 'normalised_wh_per_km') as Column;
    const forged = signedAnew(
      new Map([...members, ...filesOf(RESULTS, rowsAltered(RESULTS, column))]),
      privateKey,
    );
    await writeMembers(forged, file);
    const { differences } = await verifySnapshot(file);
    expect(differences).toContainEqual(
      expect.objectContaining({ where: 'results', row: '1', column: column.name }),
    );
    // what was fitted from the true number no longer agrees with it
    expect(differences.some(({ where }) => where === 'estimates')).toBe(true);
  });
});

describe('what is published', () => {
  const place = { dataFolder: folder, sourceOf: source };
  const publish = () => publishSnapshot(registry, RECORD, place);

  it('is one snapshot for each change, and stays as it is', async () => {
    expect(await publish()).toEqual({ outcome: 'published', number: 1 });
    expect(await publish()).toEqual({ outcome: 'unchanged' });
    const run = await prisma.run.findFirstOrThrow({
      where: { status: 'approved' },
      orderBy: { number: 'desc' },
    });
    await retractRun(
      registry,
      { accountId: run.testerId, role: 'tester' },
      { runId: run.id, reason: 'It rained on the way back.' },
    );
    expect(await publish()).toEqual({ outcome: 'notYet' });
    await prisma.job.deleteMany({ where: { kind: SNAPSHOT_JOB } });
    await runJobsNow(registry);
    expect(await publish()).toEqual({ outcome: 'published', number: 2 });

    const view = await readSnapshots(registry, {}, folder);
    expect(view.rows.map(({ number, changes }) => [number, changes])).toEqual([
      [2, []],
      [1, null],
    ]);
    const [latest] = view.rows;
    const { stream, sizeBytes } = await openSnapshot(registry, latest?.name ?? '', folder);
    expect(sizeBytes).toBe(latest?.sizeBytes);
    expect(await sha256OfStream(stream())).toBe(latest?.sha256);
    await expect(openSnapshot(registry, '../audit-key', folder)).rejects.toBeInstanceOf(NotFound);
    await expect(prisma.snapshot.updateMany({ data: { licence: 'another' } })).rejects.toThrow(/append-only/);
  });

  it('has the licence that a steward chose', async () => {
    const steward = await prisma.account.findFirstOrThrow({ where: { role: 'steward' } });
    await expect(chooseLicence(registry, tester, { licence: 'CC0-1.0' })).rejects.toBeInstanceOf(NotAllowed);
    const asSteward = { accountId: steward.id, role: 'steward' } as const;
    await expect(chooseLicence(registry, asSteward, { licence: 'mine' })).rejects.toBeInstanceOf(
      InvalidInput,
    );
    expect((await chosenLicence(prisma)).value).toBe('CC-BY-4.0');
    await chooseLicence(registry, asSteward, { licence: 'CC0-1.0' });
    expect((await chosenLicence(prisma)).value).toBe('CC0-1.0');
  });
});

/** z = X b by generalised least squares with dense matrices, as the examples at /data do it. */
function differenceByHand(): { computed: number; published: number } {
  const pair = kept(CONTRASTS).find((row) => row.kind === 'session' && row.difference_log !== null) as Row;
  const fit = kept(FITS).find((row) => row.cruise_class === pair.cruise_class) as Record<string, number>;
  const results = new Map(kept(RESULTS).map((row) => [row.run, row]));
  const runs = kept(RUNS).filter((row) => row.counts && row.cruise_class === pair.cruise_class);
  const of = (run: Row) => results.get(run.run) as Record<string, number> & { shared_parts: RunPart[] };
  const w = runs.map(() => 0);
  for (const session of new Set(runs.map((run) => run.session_id))) {
    const day = runs.flatMap((run, at) => (run.session_id === session ? [at] : []));
    const n = day.length;
    if (n < 2) continue;
    const parts = day.map((at) =>
      of(runs[at] as Row).shared_parts.filter(({ scope }) => scope === 'car' || scope === 'session'),
    );
    for (const name of new Set(parts.flat().map(({ input, key }) => `${input} ${key}`))) {
      const x = parts.map(
        (own) => own.find(({ input, key }) => `${input} ${key}` === name)?.contribution ?? 0,
      );
      const mean = x.reduce((sum, value) => sum + value, 0) / n;
      if (x.some((value) => value !== x[0]))
        day.forEach((at, place) => {
          w[at] = (w[at] as number) + (((x[place] as number) - mean) ** 2 * n) / (n - 1);
        });
    }
  }
  const same = (a: Row, b: Row, ...names: string[]) => (names.every((name) => a[name] === b[name]) ? 1 : 0);
  const V = runs.map((a, i) =>
    runs.map(
      (b, j) =>
        (fit.variance_car as number) * same(a, b, 'car_id') +
        (fit.variance_car_loop as number) * same(a, b, 'car_id', 'loop_id') +
        (fit.variance_session as number) * same(a, b, 'session_id') +
        (i === j
          ? (fit.variance_run as number) + (of(a).u_run_relative as number) ** 2 + (w[i] as number)
          : 0),
    ),
  );
  const setups = [pair.setup_a, pair.setup_b, ...new Set(runs.map((run) => run.setup_id))].filter(
    (one, at, all) => all.indexOf(one) === at,
  );
  const factor = choleskyFactor(V) as Matrix;
  const columns = setups.map((setup) => runs.map((run) => (run.setup_id === setup ? 1 : 0)));
  const weighted = columns.map((column) => solveCholesky(factor, column));
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, value, at) => sum + value * (b[at] as number), 0);
  const z = runs.map((run) => Math.log(of(run).normalised_wh_per_km as number));
  const normal = weighted.map((a) => columns.map((b) => dot(a, b)));
  const b = solveCholesky(
    choleskyFactor(normal) as Matrix,
    weighted.map((a) => dot(a, z)),
  );
  return { computed: (b[0] as number) - (b[1] as number), published: pair.difference_log as number };
}

describe('the examples at /data', () => {
  const unpacked = join(folder, 'unpacked');
  beforeAll(() => {
    for (const [name, bytes] of members) {
      mkdirSync(dirname(join(unpacked, name)), { recursive: true });
      writeFileSync(join(unpacked, name), bytes);
    }
  });

  it('say what the tables say, by dense matrices', () => {
    const { computed, published } = differenceByHand();
    expect(computed).toBeCloseTo(published, 9);
  });

  it.each([
    ['Rscript', 'difference.R', R_EXAMPLE, ['-e', '1']],
    ['python3', 'difference.py', PYTHON_EXAMPLE, ['-c', 'import numpy']],
  ] as const)('are run by %s as they stand, where it is there', (program, name, text, probe) => {
    if (spawnSync(program, probe).status !== 0) {
      console.info(
        `${program} is not there, or lacks numpy: the computation was checked by dense matrices alone`,
      );
      expect(text).toContain('variance_session');
      return;
    }
    writeFileSync(join(folder, name), text);
    const { stdout, stderr } = spawnSync(program, [join(folder, name), unpacked], { encoding: 'utf8' });
    const numberAfter = (word: string) => Number(new RegExp(`${word}\\s+(\\S+)`).exec(stdout)?.[1]);
    expect(numberAfter('published'), stderr).toBe(Number(differenceByHand().published.toFixed(12)));
    expect(Math.abs(numberAfter('computed') - numberAfter('published'))).toBeLessThan(1e-6);
  });
});

describe('a snapshot of another registry', { timeout: 120_000 }, () => {
  const ORIGIN = 'https://loops.example';
  const WORLD = 'import:loops-example';
  const own = join(folder, 'own-data');
  const checked = async () => {
    for (const { key } of await prisma.job.findMany({ where: { kind: CHECK_OTHER_JOB, state: 'queued' } }))
      await checkOther(registry, key, undefined, own);
    await prisma.job.deleteMany({ where: { kind: CHECK_OTHER_JOB } });
  };
  const state = async (id: string) => prisma.otherSnapshot.findUniqueOrThrow({ where: { id } });
  let steward: Actor;
  const send = (file: string, origin = ORIGIN) =>
    uploadOther(registry, steward, { origin, bytes: createReadStream(file) }, own);
  const accept = ({ snapshotId, keyId }: { snapshotId: string; keyId: string }) =>
    acceptKey(registry, steward, { snapshotId, keyId, reason: 'Read out by them on the telephone.' });

  /** Of every table of this registry’s own, what is in it. */
  async function ownRows(): Promise<Record<string, string | null>> {
    const tables = await prisma.$queryRaw<{ name: string }[]>`
      SELECT table_name::text AS "name" FROM information_schema.tables
      WHERE table_schema = current_schema() AND table_name NOT LIKE 'Other%'
        AND table_name NOT IN ('Job', 'AuditEntry', 'AuditSeal')`;
    const sums: Record<string, string | null> = {};
    for (const { name } of tables) {
      const [row] = await prisma.$queryRawUnsafe<{ sum: string | null }[]>(
        `SELECT md5(string_agg(t::text, ',' ORDER BY t::text)) AS "sum" FROM "${name}" t`,
      );
      sums[name] = row?.sum ?? null;
    }
    return sums;
  }

  /** The same record as of a later day, or with whatever else is done to it, and signed. */
  async function another(name: string, changes: Members, key = privateKey, asOf?: string): Promise<string> {
    const file = join(folder, name);
    await writeMembers(signedAnew(new Map([...members, ...changes]), key, asOf), file);
    return file;
  }

  beforeAll(async () => {
    const { id } = await prisma.account.findFirstOrThrow({ where: { role: 'steward' } });
    steward = { accountId: id, role: 'steward' };
  });

  it('is taken from nobody but a steward, and not from oneself', async () => {
    await expect(
      uploadOther(registry, tester, { origin: ORIGIN, bytes: createReadStream(first) }, own),
    ).rejects.toBeInstanceOf(NotAllowed);
    const mine = await another('mine.zip', new Map(), await sealKey(own));
    await expect(send(mine)).rejects.toThrow(/own key/);
    await expect(send(first, 'loops.example')).rejects.toThrow(/no address/);
    expect(await prisma.otherSnapshot.count()).toBe(0);
  });

  it('is no snapshot where it is cut short, signed by nobody, or made to fill a disk', async () => {
    const cut = join(folder, 'cut.zip');
    writeFileSync(cut, readFileSync(first).subarray(0, 100_000));
    await expect(send(cut)).rejects.toThrow(/no zip archive/);
    const unsigned = join(folder, 'unsigned.zip');
    await writeMembers(new Map([...members].filter(([name]) => name !== 'signature.json')), unsigned);
    await expect(send(unsigned)).rejects.toThrow(/not in it/);
    const bomb = join(folder, 'bomb.zip');
    const zip = new yazl.ZipFile();
    zip.addBuffer(Buffer.alloc(40 * 1024 * 1024), 'data/runs.csv', { compress: true });
    zip.end();
    await pipeline(zip.outputStream, createWriteStream(bomb));
    await expect(send(bomb)).rejects.toThrow(/unpack/);
    const endless = Readable.from(
      (function* () {
        for (;;) yield Buffer.alloc(1024 * 1024);
      })(),
    );
    await expect(
      uploadOther(registry, steward, { origin: ORIGIN, bytes: endless }, own),
    ).rejects.toBeInstanceOf(TooLarge);
    expect(await prisma.otherSnapshot.count()).toBe(0);
    expect(readdirSync(join(own, 'other-snapshots'))).toEqual([]);
  });

  it('is shown once its key is accepted and every number is computed again, and changes nothing here', async () => {
    const before = await ownRows();
    const received = await send(first);
    expect(received.trust).toBe('first');
    await checked();
    expect((await state(received.snapshotId)).state).toBe('keyAsked');
    expect(await readOtherRanking(registry, { world: WORLD })).toBeUndefined();
    await expect(
      acceptKey(registry, steward, { ...received, keyId: '0123456789abcdef', reason: 'A guess.' }),
    ).rejects.toBeInstanceOf(Conflict);
    await expect(acceptKey(registry, steward, { ...received, reason: ' ' })).rejects.toBeInstanceOf(
      InvalidInput,
    );
    await accept(received);
    await checked();
    expect((await state(received.snapshotId)).state).toBe('shown');

    const view = await readOtherRanking(registry, { world: WORLD });
    const published = kept(ESTIMATES).filter((row) => row.cruise_class === view?.group.cruiseClassKey);
    const shown = [...(view?.ranked ?? []), ...(view?.notRanked ?? [])];
    expect(shown.map((row) => [row.setupId, row.estimateWhPerKm, row.rankUpper, row.runs]).sort()).toEqual(
      published.map((row) => [row.setup_id, row.estimate_wh_per_km, row.rank_upper, row.runs]).sort(),
    );
    expect(view?.source).toMatchObject({ origin: ORIGIN, keyId: received.keyId, isInvented: false });
    const contrast = kept(CONTRASTS)[0] as Row;
    const told = shown.find(({ against }) => against !== null)?.against;
    expect(told?.word).toBe(contrast.word);
    expect(Math.abs(Math.log1p((told?.percent ?? 0) / 100))).toBeCloseTo(
      Math.abs(contrast.difference_log as number),
      12,
    );
    const setup = await readOtherSetup(registry, { world: WORLD, setupId: shown[0]?.setupId ?? '' });
    expect(setup?.runs.total).toBe(kept(RUNS).filter((row) => row.setup_id === shown[0]?.setupId).length);
    const run = await readOtherRun(registry, { world: WORLD, number: 1 });
    expect(run?.result?.measured_wh_per_km).toBe(kept(RESULTS)[0]?.measured_wh_per_km);
    // days and months, as each tester publishes them there
    expect([...new Set(setup?.runs.rows.map(({ localDate }) => localDate))].sort()).toEqual([
      '2026-05-14',
      '2026-06',
      '2026-06-01',
      '2026-06-03',
    ]);

    expect(await ownRows()).toEqual(before);
    expect(readdirSync(join(own, 'other-snapshots'))).toEqual([]);
    const acts = await prisma.auditEntry.findMany({
      where: { subjectKind: 'otherRegistry' },
      orderBy: { id: 'asc' },
    });
    expect(acts.map(({ action }) => action.replace('otherRegistry.', ''))).toEqual([
      'receive',
      'acceptKey',
      'show',
    ]);
  });

  it('is refused where it is no newer, signed by another key, altered, or somebody else’s', async () => {
    await expect(send(first)).rejects.toThrow(/as new or newer/);
    await expect(send(first, 'https://mirror.example')).rejects.toThrow(/accepted for another/);
    const shown = await prisma.otherSnapshot.findFirstOrThrow({ where: { state: 'shown' } });
    const { privateKey: stolen } = generateKeyPairSync('ed25519');
    const wrongly = await send(await another('stolen.zip', new Map(), stolen, '2027-01-01T00:00:00.000Z'));
    expect(wrongly.trust).toBe('changed');
    await checked();
    expect((await state(wrongly.snapshotId)).state).toBe('keyAsked');

    const column = RESULTS.columns.find(({ name }) => name === 'normalised_wh_per_km') as Column;
    const altered = filesOf(RESULTS, rowsAltered(RESULTS, column));
    const forged = await send(await another('altered2.zip', altered, privateKey, '2027-01-02T00:00:00.000Z'));
    // the one whose key waited gave way to it
    expect((await state(wrongly.snapshotId)).state).toBe('refused');
    await checked();
    const { state: became, says } = await state(forged.snapshotId);
    expect([became, says]).toEqual(['refused', expect.stringMatching(/^results · 1 · normalised_wh_per_km/)]);
    expect(await prisma.otherRow.count({ where: { snapshotId: forged.snapshotId } })).toBe(0);
    const view = await readOtherRanking(registry, { world: WORLD });
    expect(view?.source.snapshot).toBe(shown.name);
  });

  it('gives way to a newer one, and goes with its key when it is removed', async () => {
    const before = await ownRows();
    const newer = await send(await another('newer.zip', new Map(), privateKey, '2027-01-03T00:00:00.000Z'));
    expect(newer.trust).toBe('accepted');
    await checked();
    expect((await readOtherRanking(registry, { world: WORLD }))?.source.snapshot).toBe(newer.name);
    await clearOther(registry, own);
    const rows = await prisma.otherRow.groupBy({ by: ['snapshotId'] });
    expect(rows.map(({ snapshotId }) => snapshotId)).toEqual([newer.snapshotId]);

    const removal = { snapshotId: newer.snapshotId, reason: 'They asked for it.' };
    await expect(removeOther(registry, tester, removal)).rejects.toBeInstanceOf(NotAllowed);
    await removeOther(registry, steward, removal);
    await clearOther(registry, own);
    expect(await prisma.otherRow.count()).toBe(0);
    expect(await readOthers(registry)).toEqual([]);
    expect((await prisma.otherRegistry.findFirstOrThrow()).keyId).toBeNull();
    expect(await ownRows()).toEqual(before);
    await prisma.job.deleteMany({ where: { kind: CLEAR_OTHER_JOB } });
  });
});
