import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { suggestColumns } from '@/lib/capture/sheet/columns';
import { parseCsvTable } from '@/lib/capture/sheet/csvTable';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { templateHeader, writeCsv, writeTemplate, writeXlsx } from '@/lib/capture/sheet/writeSheet';
import { parseXlsxTable } from '@/lib/capture/sheet/xlsxTable';
import { checkImport, chooseSheet, takeUpImport } from '@/lib/registry/imports/checkImport';
import { importFaults, importPage, myImports, progressOfImport } from '@/lib/registry/imports/importPage';
import { startImport, undoImport } from '@/lib/registry/imports/startImport';
import { uploadImport } from '@/lib/registry/imports/uploadImport';
import { claimRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { runJobsNow } from '@/lib/registry/runJobs';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let reviewer: Actor;
let vehicle: Vehicle;
let carName: string;
let setupTitle: string;

beforeAll(async () => {
  tester = await person(registry, 'Sanne Ruud');
  reviewer = await person(registry, 'Odd Brenn', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  await loopOf(registry, tester, 'North causeway');
  carName = (await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } })).name;
  setupTitle = (await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } })).title;
});

/** Columns of the sheets below, beside the units that their headings say. */
const COLUMNS = IMPORT_FIELDS.filter(
  ({ name }) => !['startDate', 'startTime', 'stationReport'].includes(name),
);

type Cells = Record<string, string>;

/** A row as a tester would have kept it: names and labels, numbers in the form's first units. */
function rowCells(index: number, changes: Cells = {}): Cells {
  const form: RunForm = completeForm();
  const minute = Date.UTC(2025, 0, 6, 8, 0) + index * 90 * 60_000;
  return {
    ...form,
    carId: carName,
    setupId: setupTitle,
    loopId: 'north causeway',
    cruiseClassKey: '110 km/h',
    startedAtLocal: new Date(minute).toISOString().slice(0, 16).replace('T', ' '),
    utcOffsetMin: '+01:00',
    climate: 'On, little to do',
    trueSpeed: '110.2',
    indicatedSpeed: '113',
    outboundDistance: '53.7',
    outboundEnergy: '16.6',
    tripDistance: '107.5',
    tripEnergy: '32.9',
    tripEfficiency: '30.6',
    tripDuration: '61',
    tripMeanSpeed: '106',
    ...changes,
  };
}

function csvOf(rows: readonly Cells[]): Uint8Array {
  const lines = rows.map((cells) => COLUMNS.map(({ name }) => cells[name] ?? ''));
  // Quoted by hand: what a tester's program writes has no guards against formulas.
  const text = [templateHeader(COLUMNS), ...lines]
    .map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(','))
    .join('\r\n');
  return new TextEncoder().encode(text);
}

/** As a spreadsheet program would call the cell of a field in the n-th row under the header. */
function cellOf(name: string, index: number): string {
  let at = COLUMNS.findIndex((field) => field.name === name);
  let letters = '';
  for (at += 1; at > 0; at = Math.floor((at - 1) / 26))
    letters = String.fromCharCode(65 + ((at - 1) % 26)) + letters;
  return `${letters}${index + 2}`;
}

async function uploaded(bytes: Uint8Array, fileName = 'runs.csv'): Promise<string> {
  return (await uploadImport(registry, tester, { fileName, bytes })).importId;
}

/** Asked for in one process and done in the background. */
async function check(importId: string, reading?: object): Promise<void> {
  await checkImport(registry, tester, { importId, reading: reading ?? (await readingOf(importId)) });
  expect(await page(importId)).toMatchObject({ state: 'checking', rows: [], mapper: undefined });
  await runJobsNow(registry);
}

async function checked(bytes: Uint8Array): Promise<string> {
  const importId = await uploaded(bytes);
  await check(importId);
  expect((await page(importId)).state).toBe('checked');
  return importId;
}

async function readingOf(importId: string) {
  const { report } = await prisma.importBatch.findUniqueOrThrow({ where: { id: importId } });
  return (report as { reading: { columns: { field: string; column: number }[]; given: Cells } }).reading;
}

const page = (importId: string, outcome?: string) =>
  importPage(registry, tester, importId, outcome === undefined ? {} : { outcome });

/** One fault a row, of every kind that a sheet has; where it lies and what to say is known beforehand. */
const FAULTS: readonly [field: string, text: string][] = [
  ['carId', 'Nobody’s car'],
  ['setupId', 'no such setup'],
  ['loopId', 'Lost loop'],
  ['cruiseClassKey', '111 km/h'],
  ['cruiseClassKey', '130 km/h'],
  ['startedAtLocal', '31.02.2025 9:00'],
  ['utcOffsetMin', 'summer'],
  ['trueSpeed', 'fast'],
  ['trueSpeed', ''],
  ['chargeStart', '180'],
  ['chargeEnd', '91'],
  ['tripDistance', '107000'],
  ['tripDuration', '1:75'],
  ['climate', 'cosy'],
  ['airTemperature', '180'],
  ['windSpeed', ''],
  ['road', ''],
  ['outboundDistance', '120.0'],
  ['airPressure', ''],
];

describe('a sheet of 5,000 rows with 37 faulty ones', () => {
  it('is reported with exactly those, by cell', async () => {
    const total = 5000;
    const faultyRows = new Map<number, readonly [field: string, text: string]>();
    for (let n = 0; n < 37; n++) {
      const fault = FAULTS[n % FAULTS.length];
      if (fault !== undefined) faultyRows.set(101 + n * 131, fault);
    }
    const rows = Array.from({ length: total }, (_, index) => {
      const fault = faultyRows.get(index);
      return rowCells(index, fault === undefined ? {} : { [fault[0]]: fault[1] });
    });
    const importId = await uploaded(csvOf(rows));
    await check(importId);

    const { counts, rows: refused } = await page(importId, 'refused');
    expect(counts).toEqual({ create: total - 37, matched: 0, refused: 37 });
    const told = refused.flatMap((row) =>
      row.outcome === 'refused' ? [[row.row, row.problems.map((p) => p.cell)]] : [],
    );
    expect(told).toEqual([...faultyRows].map(([index, [field]]) => [index + 2, [cellOf(field, index)]]));
    expect((await importFaults(registry, tester, importId)).trim().split('\r\n')).toHaveLength(1 + 37);
    expect(await prisma.run.count()).toBe(0);
  }, 180_000);
});

describe('importing', () => {
  it('makes nothing of a faulty sheet when all or nothing is chosen, and the good rows when it is not', async () => {
    const rows = [rowCells(0), rowCells(1, { tripDistance: 'far' }), rowCells(2), rowCells(2)];
    const importId = await checked(csvOf(rows));
    const { rows: planned } = await page(importId);
    expect(planned.map(({ outcome }) => outcome)).toEqual(['create', 'refused', 'create', 'refused']);
    expect(planned[3]).toMatchObject({ problems: [{ message: 'The same as row 4.', cell: 'A5' }] });
    await expect(startImport(registry, tester, { importId, mode: 'all' })).rejects.toThrow(InvalidInput);
    await runJobsNow(registry);
    expect(await prisma.run.count()).toBe(0);

    await startImport(registry, tester, { importId, mode: 'partial' });
    expect((await page(importId)).state).toBe('running');
    await runJobsNow(registry);
    const done = await page(importId);
    expect(done).toMatchObject({ state: 'done', rowsMade: 2, counts: { create: 2, matched: 0, refused: 2 } });
    const made = await prisma.run.findMany({
      where: { importBatchId: importId },
      include: { revisions: { include: { findings: true } } },
    });
    expect(made.map(({ status }) => status)).toEqual(['submitted', 'submitted']);
    expect(made.every(({ revisions }) => revisions.length === 1 && revisions[0]?.isRetrospective)).toBe(true);
    const finding = made[0]?.revisions[0]?.findings.find(({ ruleId }) => ruleId === 'recorded-as-driven');
    expect(finding?.outcome).toBe('caution');
    await expect(startImport(registry, tester, { importId, mode: 'partial' })).rejects.toThrow(Conflict);
  });

  it('makes nothing twice: not from the same file, not from the same drives in another one', async () => {
    const before = await prisma.run.count();
    const sheet = csvOf([rowCells(10), rowCells(11)]);
    const first = await checked(sheet);
    await startImport(registry, tester, { importId: first, mode: 'all' });
    await runJobsNow(registry);
    expect(await prisma.run.count()).toBe(before + 2);

    const again = await checked(sheet);
    expect((await page(again)).counts).toEqual({ create: 0, matched: 2, refused: 0 });
    await expect(startImport(registry, tester, { importId: again, mode: 'all' })).rejects.toThrow(Conflict);

    const longer = await checked(csvOf([rowCells(12), rowCells(11, { notes: 'typed again' })]));
    expect((await page(longer)).rows.map(({ outcome }) => outcome)).toEqual(['create', 'matched']);
    await startImport(registry, tester, { importId: longer, mode: 'all' });
    await runJobsNow(registry);
    expect(await prisma.run.count()).toBe(before + 3);
  });

  it('started twice at once, runs once; two checks of one file make each run once', async () => {
    const before = await prisma.run.count();
    const sheet = csvOf([rowCells(20), rowCells(21)]);
    const [one, other] = [await checked(sheet), await checked(sheet)];
    const starts = await Promise.allSettled([
      startImport(registry, tester, { importId: one, mode: 'all' }),
      startImport(registry, tester, { importId: one, mode: 'all' }),
    ]);
    expect(starts.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    await startImport(registry, tester, { importId: other, mode: 'all' });
    await runJobsNow(registry);
    expect(await prisma.run.count()).toBe(before + 2);
    expect((await page(one)).rowsMade + (await page(other)).rowsMade).toBe(2);
    expect((await page(other)).counts.matched).toBe(2);
  });

  it('takes up again where a dead process left it', async () => {
    const before = await prisma.run.count();
    const importId = await checked(csvOf(Array.from({ length: 5 }, (_, n) => rowCells(30 + n))));
    await startImport(registry, tester, { importId, mode: 'all' });
    await runJobsNow(registry);
    // As if it had died before it noted the pass: the runs are there, the report does not know of them.
    const { report } = await prisma.importBatch.findUniqueOrThrow({ where: { id: importId } });
    await prisma.importBatch.update({
      where: { id: importId },
      data: { rowsMade: 0, report: { ...(report as object), state: 'running', rowsDone: 0 } },
    });
    await prisma.job.create({ data: { kind: 'import', key: importId, runAfter: registry.now() } });
    await runJobsNow(registry);
    expect(await page(importId)).toMatchObject({
      state: 'done',
      rowsMade: 5,
      counts: { create: 5, matched: 0 },
    });
    expect(await prisma.run.count()).toBe(before + 5);
  });

  it('of all or nothing takes everything back when a row can no longer be taken', async () => {
    const loopId = await loopOf(registry, tester, 'South bank');
    const both = await checked(csvOf([rowCells(42), rowCells(43, { loopId: 'South bank' })]));
    await startImport(registry, tester, { importId: both, mode: 'all' });
    await prisma.loop.update({ where: { id: loopId }, data: { name: 'South bank, renamed' } });
    await runJobsNow(registry);
    expect(await page(both)).toMatchObject({
      state: 'stopped',
      rowsMade: 0,
      withdrawn: 1,
      counts: { refused: 1 },
    });
    const made = await prisma.run.findMany({ where: { importBatchId: both } });
    expect(made.map(({ status }) => status)).toEqual(['draft']);
  });
});

describe('undoing an import', () => {
  it('takes back what nobody has decided on, lists the rest, and lets the file come again', async () => {
    const sheet = csvOf([rowCells(50), rowCells(51), rowCells(52)]);
    const importId = await checked(sheet);
    await startImport(registry, tester, { importId, mode: 'all' });
    await runJobsNow(registry);
    const [first, second] = await prisma.run.findMany({
      where: { importBatchId: importId },
      orderBy: { number: 'asc' },
    });
    if (first === undefined || second === undefined) throw new Error('no runs');
    await claimRun(registry, reviewer, { runId: second.id });
    await claimRun(registry, reviewer, { runId: first.id });
    await decideReview(registry, reviewer, {
      runId: first.id,
      revisionNumber: 1,
      kind: 'askChanges',
      note: 'Please add a photo of the finish.',
      reasons: [{ ruleId: 'finish-display-photo', text: 'No photo of the display at the finish.' }],
    });
    await undoImport(registry, tester, { importId });
    await runJobsNow(registry);
    const undone = await page(importId);
    expect(undone).toMatchObject({ state: 'undone', withdrawn: 2, rowsMade: 1 });
    expect(undone.kept).toEqual([{ runNumber: first.number, status: 'Changes asked' }]);
    await expect(undoImport(registry, tester, { importId })).rejects.toThrow(Conflict);

    const before = await prisma.run.count();
    const again = await checked(sheet);
    expect((await page(again)).rows.map(({ outcome }) => outcome)).toEqual(['matched', 'create', 'create']);
    await startImport(registry, tester, { importId: again, mode: 'partial' });
    await runJobsNow(registry);
    expect((await page(again)).rowsMade).toBe(2);
    expect(await prisma.run.count()).toBe(before);
  });

  it('can be taken up again without sending the file', async () => {
    const importId = await checked(csvOf([rowCells(90), rowCells(91)]));
    await expect(takeUpImport(registry, tester, { importId })).rejects.toThrow(Conflict);
    await startImport(registry, tester, { importId, mode: 'all' });
    await runJobsNow(registry);
    await undoImport(registry, tester, { importId });
    await runJobsNow(registry);
    const runs = await prisma.run.count();
    await takeUpImport(registry, tester, { importId });
    await runJobsNow(registry);
    expect(await page(importId)).toMatchObject({ state: 'checked', counts: { create: 2 }, withdrawn: 0 });
    await startImport(registry, tester, { importId, mode: 'all' });
    await runJobsNow(registry);
    expect(await page(importId)).toMatchObject({ state: 'done', rowsMade: 2 });
    expect(await prisma.run.count()).toBe(runs);
    const { undoneAt } = await prisma.importBatch.findUniqueOrThrow({ where: { id: importId } });
    expect(undoneAt).toBeNull();
  });
});

describe('the columns', () => {
  it('of the template are recognised, all of them, as CSV and as XLSX', async () => {
    const csv = parseCsvTable(writeCsv(templateHeader(IMPORT_FIELDS), [['x']]));
    const xlsx = await parseXlsxTable(await writeTemplate(IMPORT_FIELDS));
    for (const result of [csv, xlsx]) {
      if (!result.ok) throw new Error(result.message);
      const columns = suggestColumns(result.table.header, IMPORT_FIELDS);
      expect(columns.map(({ field, column }) => [field, column])).toEqual(
        IMPORT_FIELDS.map(({ name }, at) => [name, at]),
      );
    }
  });

  it('are read in the units that were chosen, with date and time apart and names given for all rows', async () => {
    const header = ['When', 'Clock', 'Dist.', 'kWh', 'Min', 'v', 'from %', 'to %', 'Temp', 'Wind', 'Dir'];
    const row = ['2025-03-04', '10:15', '66.8', '32.9', '61', '68.4', '80', '51', '64', '3', '240'];
    const fields = ['startDate', 'startTime', 'tripDistance', 'tripEnergy', 'tripDuration', 'trueSpeed'];
    const more = ['chargeStart', 'chargeEnd', 'airTemperature', 'windSpeed', 'windFrom'];
    const units = [undefined, undefined, 'mi', 'kWh', 'min', 'mph', '%', '%', 'degF', 'm/s', 'deg'];
    const columns = [...fields, ...more].map((field, column) => ({
      field,
      column,
      ...(units[column] === undefined ? {} : { unit: units[column] }),
    }));
    const given = {
      carId: carName,
      setupId: setupTitle,
      loopId: 'North causeway',
      cruiseClassKey: 'kmh-110',
      utcOffsetMin: 'Z',
      trueSpeedMethod: 'positioning',
      climate: 'mild',
      pressureKind: 'altitudeOnly',
      precipitation: 'none',
      road: 'dry',
      traffic: 'free',
      closeFollowing: 'none',
      conditionsSource: 'forecast',
    };
    const importId = await uploaded(new TextEncoder().encode(writeCsv(header, [row])));
    const { climate: _left, ...incomplete } = given;
    await check(importId, { columns, given: incomplete });
    expect((await page(importId)).state).toBe('mapping');
    const problems = (await page(importId)).mapper?.sections.flatMap((section) =>
      section.fields.flatMap((field) => (field.problem === undefined ? [] : [field.name])),
    );
    expect(problems).toEqual(['climate']);
    await check(importId, { columns, given });
    expect((await page(importId)).counts).toEqual({ create: 1, matched: 0, refused: 0 });
    await startImport(registry, tester, { importId, mode: 'all' });
    await runJobsNow(registry);
    const run = await prisma.run.findFirstOrThrow({
      where: { importBatchId: importId },
      include: { revisions: { include: { readings: true } } },
    });
    const revision = run.revisions[0];
    expect(revision?.startedAt.toISOString()).toBe('2025-03-04T10:15:00.000Z');
    const distance = revision?.readings.find(({ quantity }) => quantity === 'tripDistance');
    // 66.8 mi of 1609.344 m each (NIST SP 811)
    expect(distance?.value).toBeCloseTo(107_504.179, 3);

    const next = await uploaded(new TextEncoder().encode(writeCsv(header, [row, row])));
    expect(await readingOf(next)).toEqual({ columns, given, words: [] });
  });

  it('of another sheet of a workbook are proposed anew', async () => {
    const bytes = await writeXlsx('Runs', templateHeader(COLUMNS), [
      COLUMNS.map(({ name }) => rowCells(60)[name] ?? ''),
    ]);
    const importId = await uploaded(bytes, 'runs.xlsx');
    expect((await page(importId)).sheetName).toBe('Runs');
    await check(importId);
    expect((await page(importId)).counts.create).toBe(1);
    await expect(chooseSheet(registry, tester, { importId, sheetName: 'Gone' })).rejects.toThrow(
      InvalidInput,
    );
    await chooseSheet(registry, tester, { importId, sheetName: 'Runs' });
    expect((await page(importId)).state).toBe('mapping');
  });
});

describe('what is refused', () => {
  it('a file that is none, an empty one and a header alone', async () => {
    const text = (content: string) => new TextEncoder().encode(content);
    for (const bytes of [
      text(''),
      text('Car,Loop\r\n'),
      new Uint8Array([0x50, 0x4b, 3, 4, 0, 0]),
      text('a\0b'),
    ]) {
      await expect(uploadImport(registry, tester, { fileName: 'x', bytes })).rejects.toThrow(InvalidInput);
    }
  });

  it('somebody else’s import, and everything without an account', async () => {
    const importId = await uploaded(csvOf([rowCells(70)]));
    const stranger = await person(registry, 'Kai Strand');
    const reading = await readingOf(importId);
    for (const actor of [stranger, undefined]) {
      await expect(importPage(registry, actor, importId)).rejects.toThrow(NotAllowed);
      await expect(checkImport(registry, actor, { importId, reading })).rejects.toThrow(NotAllowed);
      await expect(startImport(registry, actor, { importId, mode: 'all' })).rejects.toThrow(NotAllowed);
      await expect(undoImport(registry, actor, { importId })).rejects.toThrow(NotAllowed);
      await expect(progressOfImport(registry, actor, importId)).rejects.toThrow(NotAllowed);
      await expect(importFaults(registry, actor, importId)).rejects.toThrow(NotAllowed);
    }
    expect(await myImports(registry, stranger)).toEqual([]);
    expect((await myImports(registry, tester))[0]).toMatchObject({
      id: importId,
      state: 'mapping',
      rowsRead: 1,
    });
  });

  it('formulas in the report: a cell that begins like one is written as text', async () => {
    const importId = await checked(csvOf([rowCells(80, { carId: '=HYPERLINK("x")' }), rowCells(81)]));
    const faults = await importFaults(registry, tester, importId);
    expect(faults).toContain('HYPERLINK');
    expect(faults).not.toMatch(/(^|,)"?[=+@]/m);
  });
});
