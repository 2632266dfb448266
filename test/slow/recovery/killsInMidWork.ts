import { expect, it } from 'vitest';
import { IMPORT_FIELDS } from '@/lib/capture/sheet/importFields';
import { templateHeader } from '@/lib/capture/sheet/writeSheet';
import { checkImport } from '@/lib/registry/imports/checkImport';
import { importPage } from '@/lib/registry/imports/importPage';
import { startImport } from '@/lib/registry/imports/startImport';
import { uploadImport } from '@/lib/registry/imports/uploadImport';
import { requestRefit } from '@/lib/registry/rankings/requestRefit';
import { completeForm } from '@/test/helpers/runForms';
import { type FilledApp, MINUTE_MS } from './filledApp';
import { waitFor } from './startedApp';

const ROWS = 60;

/** What comes back by itself after a SIGKILL of any part: one file for each, as they mostly wait, and do so side by side. */
export function comesBackInMidWork(
  theApp: () => FilledApp,
  pidOf: (app: FilledApp) => Promise<number>,
): void {
  it('in mid-refit: the refit is done, and pages answer, within a minute', async () => {
    const app = theApp();
    const holder = await app.connect();
    await holder.query('begin');
    // The refit computes, and stands still where it writes.
    await holder.query('lock table "Fit" in share mode');
    await app.withRegistry((registry) =>
      requestRefit(registry, app.steward, { cruiseClassKey: 'mph-70', world: 'record' }),
    );
    await waitFor('the refit to write', MINUTE_MS, async () => {
      const waiting = await holder.query(
        `select 1 from pg_locks where not granted and relation = '"Fit"'::regclass`,
      );
      return waiting.rows.length > 0;
    });
    const fits = async () =>
      Number((await app.query<{ n: string }>('select count(*) as n from "Fit"'))[0]?.n);
    const before = await fits();
    process.kill(await pidOf(app), 'SIGKILL');
    const killed = performance.now();
    await holder.query('rollback').catch(() => undefined);
    await holder.end().catch(() => undefined);
    await waitFor('the refit to be done', MINUTE_MS, async () => (await app.latest('refit')) === 'done');
    await waitFor('the web process to answer', MINUTE_MS, app.isLive);
    expect(performance.now() - killed).toBeLessThan(MINUTE_MS);
    expect(await fits()).toBe(before + 1);
  });

  it('in mid-import: every row is there once, within a minute', async () => {
    const app = theApp();
    const importId = await importOf(app);
    const made = async (): Promise<number> => {
      const rows = await app.query<{ n: string }>(
        `select count(*) as n from "Run" where "importBatchId" = $1 and "status" = 'submitted'`,
        [importId],
      );
      return Number(rows[0]?.n);
    };
    await waitFor('some rows', MINUTE_MS, async () => (await made()) >= 5);
    expect(await made()).toBeLessThan(ROWS);
    process.kill(await pidOf(app), 'SIGKILL');
    const killed = performance.now();
    await waitFor('the import to be done', MINUTE_MS, async () => {
      const [row] = await app.query<{ state: string }>(
        `select "report"->>'state' as "state" from "ImportBatch" where "id" = $1`,
        [importId],
      );
      return row?.state === 'done';
    });
    await waitFor('the web process to answer', MINUTE_MS, app.isLive);
    expect(performance.now() - killed).toBeLessThan(MINUTE_MS);
    expect(await made()).toBe(ROWS);
    const drafts = await app.query(`select 1 from "Run" where "status" = 'draft'`);
    expect(drafts).toHaveLength(0);
  });

  it('is ready after all that', async () => {
    await waitFor('everything to be well', MINUTE_MS, theApp().isReady);
  });
}

/** An import of the tester's that has begun. */
async function importOf({ withRegistry, tester, names }: FilledApp): Promise<string> {
  return withRegistry(async (registry) => {
    const { importId } = await uploadImport(registry, tester, { fileName: 'runs.csv', bytes: sheet(names) });
    const { report } = await registry.db.importBatch.findUniqueOrThrow({ where: { id: importId } });
    const { reading } = report as { reading: unknown };
    await checkImport(registry, tester, { importId, reading });
    await waitFor('the check', MINUTE_MS, async () => {
      const { state } = await importPage(registry, tester, importId);
      return state === 'checked';
    });
    await startImport(registry, tester, { importId, mode: 'all', failing: 'send' });
    return importId;
  });
}

function sheet(names: FilledApp['names']): Uint8Array {
  const columns = IMPORT_FIELDS.filter(
    ({ name }) => !['startDate', 'startTime', 'stationReport'].includes(name),
  );
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const start = Date.UTC(2025, 0, 1, 8) + index * 90 * 60_000;
    const cells: Record<string, string> = {
      ...completeForm(),
      carId: names.car,
      setupId: names.setup,
      loopId: 'north causeway',
      cruiseClassKey: '110 km/h',
      startedAtLocal: new Date(start).toISOString().slice(0, 16).replace('T', ' '),
      utcOffsetMin: '+01:00',
      climate: 'On, little to do',
      trueSpeed: '110.2',
      indicatedSpeed: '113',
      outboundDistance: '53.7',
      outboundEnergy: '17.4',
      tripDistance: '107.5',
      tripEnergy: '34.1',
      tripEfficiency: '31.7',
      tripDuration: '61',
      tripMeanSpeed: '106',
    };
    return columns.map(({ name }) => cells[name] ?? '');
  });
  const lines = [templateHeader(columns), ...rows];
  return new TextEncoder().encode(
    lines.map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(',')).join('\r\n'),
  );
}
