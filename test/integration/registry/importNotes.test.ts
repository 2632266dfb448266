import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeXlsx } from '@/lib/capture/sheet/writeSheet';
import { checkImport, chooseSheet, takeUpImport } from '@/lib/registry/imports/checkImport';
import { importPage } from '@/lib/registry/imports/importPage';
import { startImport, undoImport } from '@/lib/registry/imports/startImport';
import { uploadImport } from '@/lib/registry/imports/uploadImport';
import { runJobsNow } from '@/lib/registry/runJobs';
import { InvalidInput } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
let car: string;
let setup: string;

beforeAll(async () => {
  tester = await person(registry, 'Sanne Ruud');
  const vehicle = await vehicleOf(registry, tester);
  await loopOf(registry, tester, 'North causeway');
  car = (await prisma.car.findUniqueOrThrow({ where: { id: vehicle.carId } })).name;
  setup = (await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } })).title;
});

const page = (importId: string) => importPage(registry, tester, importId);

async function uploaded(text: string, fileName: string): Promise<string> {
  const bytes = new TextEncoder().encode(text);
  return (await uploadImport(registry, tester, { fileName, bytes })).importId;
}

async function readingOf(importId: string) {
  const { report } = await prisma.importBatch.findUniqueOrThrow({ where: { id: importId } });
  const { reading } = report as { reading: { given: Record<string, string>; words: object[] } };
  return reading;
}

/** What the tester says on the page, on top of what was proposed. */
async function check(
  importId: string,
  said: {
    given?: Record<string, string>;
    words?: object[];
    dateOrder?: 'dmy' | 'mdy';
    blankDates?: 'carried' | 'missing';
  },
) {
  const reading = await readingOf(importId);
  await checkImport(registry, tester, {
    importId,
    reading: {
      ...reading,
      ...said,
      given: { ...reading.given, ...said.given },
      words: [...reading.words, ...(said.words ?? [])],
    },
  });
  await runJobsNow(registry);
  return page(importId);
}

/** What is missing in nearly all notes, and is the same for all rows of a file. */
const FOR_ALL = {
  utcOffsetMin: '+01:00',
  trueSpeedMethod: 'positioning',
  climate: 'mild',
  closeFollowing: 'none',
  road: 'dry',
};

describe('notes with a title, imperial units, and month before day', () => {
  const notes = () =>
    [
      'Range notes 2025,,,,,,,,,,,,,,',
      'Keep this tidy!,,,,,,,,,,,,,,',
      ',,,,,,,,,,,,,,',
      'Date,Time,Vehicle,Config,Route,Target speed,GPS speed (mph),Start SoC,End SoC,Miles,mi/kWh,Duration,Temp F,Altimeter inHg,Wind,Traffic,Rain,Weather source',
      `3/14/2025,9:10 AM,${car},${setup},North causeway,110 km/h,68.4,90%,32%,66.8,2.03,58:40,"46 F","29.92",SW 5 mph,light,no,METAR`,
      `3/15/2025,1:05 PM,${car},${setup},North causeway,110 km/h,68.4,88 %,30 %,66.8 mi,2.05,1:00,48,29.95,calm,light,no,METAR`,
    ].join('\n');

  it('has its headings found, and every cell is read', async () => {
    const importId = await uploaded(notes(), 'range-notes.csv');
    const { mapper } = await page(importId);
    expect(mapper?.headings.chosen).toBe(4);
    expect(mapper?.words.map(({ text, value }) => [text, value])).toEqual([
      ['light', 'free'],
      ['no', 'none'],
      ['METAR', 'stationReport'],
    ]);
    const checked = await check(importId, { given: FOR_ALL });
    expect(checked.rows.flatMap((row) => (row.outcome === 'refused' ? row.problems : []))).toEqual([]);
    expect(checked.counts).toEqual({ create: 2, matched: 0, refused: 0 });
    expect(checked.rows[0]).toMatchObject({ row: 5, what: expect.stringContaining('2025-03-14 09:10') });
  });
});

describe('notes with decimal commas, day before month, and words of their own', () => {
  const notes = () =>
    [
      'Start;Car;Setup;Loop;Class;Speed (km/h);SoC start;SoC end;Distance (km);Energy used (kWh);Time;Temp;Pressure (hPa);Wind speed (m/s);Wind dir;Traffic;Rain;Source',
      `03.04.2025 09:10;${car};${setup};Nort causeway;110;110,2;90;32;107,5;32,9;0:58;8,0;1.013,2;4,1;SW;flüssig;keiner;METAR`,
      `04.04.2025 09:10;${car};${setup};Nort causeway;110;110,2;90;32;107,5;33,1;0:59;9,0;1.013,0;3;WSW;flüssig;keiner;METAR`,
    ].join('\r\n');

  it('asks once for the order of dates and for each word, and names the loop that was meant', async () => {
    const importId = await uploaded(notes(), 'fahrten.csv');
    const first = await check(importId, { given: FOR_ALL });
    expect(first.state).toBe('mapping');
    expect(first.mapper?.habits).toMatchObject([
      { name: 'dateOrder', problem: expect.stringContaining('“03.04.2025 09:10” in A2 can be two days.') },
    ]);
    const words = first.mapper?.words ?? [];
    expect(words.map(({ text, rows, value, nearest }) => [text, rows, value, nearest])).toEqual([
      ['Nort causeway', 2, '', 'North causeway'],
      ['110', 2, 'kmh-110', undefined],
      ['flüssig', 2, '', undefined],
      ['keiner', 2, '', undefined],
      ['METAR', 2, 'stationReport', undefined],
    ]);
    const given = { ...FOR_ALL, pressureKind: 'qnh' };
    const unread = await check(importId, { given, dateOrder: 'dmy' });
    expect(unread.counts).toEqual({ create: 0, matched: 0, refused: 2 });
    expect(unread.repeated.map(({ path, rows }) => [path, rows])).toEqual(
      expect.arrayContaining([
        ['loopId', 2],
        ['traffic', 2],
        ['precipitation', 2],
      ]),
    );
    const done = await check(importId, {
      given,
      dateOrder: 'dmy',
      words: [
        { field: 'loopId', text: 'Nort causeway', value: 'North causeway' },
        { field: 'traffic', text: 'flüssig', value: 'free' },
        { field: 'precipitation', text: 'keiner', value: 'none' },
      ],
    });
    expect(done.rows.flatMap((row) => (row.outcome === 'refused' ? row.problems : []))).toEqual([]);
    expect(done.counts).toEqual({ create: 2, matched: 0, refused: 0 });
    expect(done.rows[0]).toMatchObject({ what: expect.stringContaining('2025-04-03 09:10') });
    // The same person's next file under these headings is not asked again.
    const next = await uploaded(notes().replace('32,9', '32,8'), 'more.csv');
    expect((await page(next)).mapper?.words.every(({ value }) => value !== '')).toBe(true);
  });
});

describe('notes with one date a day and a wind that nobody looked up', () => {
  const notes = () =>
    [
      'Date;Time of start;Car;Setup;Loop;Class;Speed (km/h);SoC start;SoC end;Distance (km);Energy used (kWh);Duration;Temp;Wind speed (m/s);Wind dir;Traffic;In front;Range start (km);Source',
      `2025-07-03;09:10;${car};${setup};North causeway;110 km/h;110,2;80;52;107,5;32,9;0:58;18,0;4,1;?;free;truck;412;METAR`,
      `;11:20;${car};${setup};North causeway;110 km/h;110,4;80;52;107,5;33,1;0:59;19,0;3;unknown;free;nobody;405;METAR`,
    ].join('\r\n');

  it('is asked once whether the date holds, and takes the direction as not known', async () => {
    const importId = await uploaded(notes(), 'sommer.csv');
    const given = { ...FOR_ALL, precipitation: 'none', pressureKind: 'altitudeOnly' };
    const first = await check(importId, { given });
    expect(first.mapper?.habits.map(({ name }) => name)).toEqual(['blankDates']);
    const done = await check(importId, { given, blankDates: 'carried' });
    expect(done.rows.flatMap((row) => (row.outcome === 'refused' ? row.problems : []))).toEqual([]);
    expect(done.rows.map((row) => (row.outcome === 'create' ? row.what.slice(0, 16) : ''))).toEqual([
      '2025-07-03 09:10',
      '2025-07-03 11:20',
    ]);
    await startImport(registry, tester, { importId, mode: 'all', failing: 'send' });
    await runJobsNow(registry);
    const [run] = await prisma.run.findMany({
      where: { importBatchId: importId },
      orderBy: { number: 'asc' },
      select: { draft: true, revisions: { select: { readings: true, conditions: true } } },
    });
    expect(run?.draft).toMatchObject({ windDirectionKnown: 'no', inFront: 'truck', rangeStart: '412' });
    expect(run?.revisions[0]?.conditions?.windFromDeg).toBeNull();
    expect(run?.revisions[0]?.readings.find(({ quantity }) => quantity === 'rangeStart')?.value).toBe(
      412_000,
    );
  });
});

describe('rows that fail a rule of the protocol', () => {
  const notes = () =>
    [
      'Date,Time,Vehicle,Config,Route,Target speed,GPS speed (km/h),Start SoC,End SoC,Distance (km),kWh/100km,Duration,Temp C,Altimeter hPa,Wind speed (m/s),Wind dir,Traffic,Rain,Weather source',
      `2025-05-13,09:10,${car},${setup},North causeway,110 km/h,110.2,80,52,107.5,30.6,61,8,1013,4.1,225,free,none,METAR`,
      `2025-05-14,09:10,${car},${setup},North causeway,110 km/h,110.2,80,52,107.4,30.5,61,9,1013,9.5,225,free,rain,METAR`,
    ].join('\n');

  it('are shown with result and findings, asked about, and kept as drafts or sent as the tester says', async () => {
    const importId = await uploaded(notes(), 'with-rain.csv');
    const view = await check(importId, { given: FOR_ALL });
    expect(view.rows.flatMap((row) => (row.outcome === 'refused' ? row.problems : []))).toEqual([]);
    const [first, second] = view.rows.map((row) => (row.outcome === 'create' ? row.verdict : undefined));
    expect(first?.whPerKm).toBeGreaterThan(100);
    expect(first?.found.filter(({ outcome }) => outcome === 'fail')).toEqual([]);
    // Rain and a wind of 9.5 m/s: out of the method's reach, so there is no number.
    expect(second?.whPerKm).toBeNull();
    expect(second?.found.filter(({ outcome }) => outcome === 'fail').map(({ ruleId }) => ruleId)).toEqual(
      expect.arrayContaining(['wind', 'no-precipitation']),
    );
    expect(view.judged).toMatchObject({ judged: 2, failing: 1 });
    await expect(startImport(registry, tester, { importId, mode: 'all' })).rejects.toThrow(InvalidInput);
    expect((await page(importId)).state).toBe('checked');

    await startImport(registry, tester, { importId, mode: 'all', failing: 'draft' });
    await runJobsNow(registry);
    const done = await page(importId);
    expect(done).toMatchObject({ state: 'done', rowsMade: 1, drafts: 1 });
    const made = await prisma.run.findMany({
      where: { importBatchId: importId },
      orderBy: { number: 'asc' },
      select: { status: true, revisions: { select: { normalisations: true, findings: true } } },
    });
    expect(made.map(({ status }) => status)).toEqual(['submitted', 'draft']);
    // What was shown before is what the submission made.
    const [sent] = made[0]?.revisions ?? [];
    expect(sent?.normalisations[0]?.normalisedWhPerKm).toBe(first?.whPerKm);
    const kept = sent?.findings.filter(({ outcome }) => outcome === 'fail' || outcome === 'caution') ?? [];
    expect(new Map(kept.map(({ ruleId, sentence }) => [ruleId, sentence]))).toEqual(
      new Map(first?.found.map(({ ruleId, sentence }) => [ruleId, sentence])),
    );
    // Sent all the same, it waits for a reviewer with what fails.
    await undoImport(registry, tester, { importId });
    await runJobsNow(registry);
    await takeUpImport(registry, tester, { importId });
    await runJobsNow(registry);
    await startImport(registry, tester, { importId, mode: 'all', failing: 'send' });
    await runJobsNow(registry);
    expect(await page(importId)).toMatchObject({ state: 'done', rowsMade: 2, drafts: 0 });
  });
});

describe('a workbook whose headings are not where they look to be', () => {
  it('is read under the row that the tester picks', async () => {
    const bytes = await writeXlsx(
      'Log',
      ['Car', 'Loop', 'Date'],
      [
        ['which one', 'where', 'when'],
        ['Fahrzeug', 'Strecke', 'Tag'],
        [car, 'North causeway', '2025-03-14'],
      ],
    );
    const { importId } = await uploadImport(registry, tester, { fileName: 'log.xlsx', bytes });
    expect((await page(importId)).mapper?.headings.chosen).toBe(1);
    await chooseSheet(registry, tester, { importId, headingRow: '3' });
    const { mapper, rowsRead } = await page(importId);
    expect(mapper?.headings.chosen).toBe(3);
    expect(mapper?.columns.map(({ heading }) => heading)).toEqual(['Fahrzeug', 'Strecke', 'Tag']);
    expect(rowsRead).toBe(1);
  });
});
