import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { stationDistancePriors } from '@/lib/capture/weather/conditions';
import { normalisationCaseSchema } from '@/lib/physics/caseSchema';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { fillWeather, readWeather } from '@/lib/registry/weather/fillWeather';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { completeForm } from '@/test/helpers/runForms';
import { loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let other: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jonas Reet');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
});
afterAll(remove);

const reports = `METAR XAIS 140820Z 24010KT 9999 SCT030 16/09 Q1013=
METAR XAIS 140950Z 24010KT 9999 SCT030 16/09 Q1013=`;

async function draft(changes: Record<string, string> = {}) {
  const form = completeForm({
    carId: vehicle.carId,
    setupId: vehicle.baselineId,
    loopId,
    relativeHumidity: '',
    ...changes,
  });
  return startDraft(registry, tester, { creationKey: crypto.randomUUID(), form });
}

async function caseOf(runId: string) {
  const row = await prisma.normalisation.findFirstOrThrow({
    where: { revision: { runId } },
    include: { revision: { include: { conditions: true } } },
  });
  return { engineCase: normalisationCaseSchema.parse(row.input), conditions: row.revision.conditions };
}

describe('weather from station reports', () => {
  it('fills the draft, keeps the text, and brings the reports’ uncertainty into the normalisation', async () => {
    const { runId, draftVersion } = await draft();
    const read = await readWeather(registry, tester, { runId, reports });
    expect(read.values.length).toBeGreaterThanOrEqual(5);
    const filled = await fillWeather(registry, tester, { runId, draftVersion, reports });
    await submitRun(registry, tester, { runId, draftVersion: filled.draftVersion });
    const { engineCase, conditions } = await caseOf(runId);
    expect(conditions?.stationReport).toContain('METAR XAIS 140820Z');
    expect(engineCase.run.airTemperatureC).toBe(16);
    // the prior at 12 km and the rounding to a degree, 1/√12; nothing changed between the reports
    const { base, perKm } = stationDistancePriors.temperatureC;
    const expected = Math.hypot(base + 12 * perKm, 1 / Math.sqrt(12));
    expect(engineCase.uncertainty?.airTemperatureC?.u).toBeCloseTo(expected, 6);
    expect(conditions?.airTemperatureUC).toBeCloseTo(expected, 6);
  });

  it('grows with the distance of the station', async () => {
    const us: number[] = [];
    for (const [stationDistance, day] of [
      ['5', '15'],
      ['60', '16'],
    ] as const) {
      const { runId, draftVersion } = await draft({
        stationDistance,
        startedAtLocal: `2026-05-${day}T09:30`,
      });
      const dated = reports.replaceAll('XAIS 14', `XAIS ${day}`);
      const filled = await fillWeather(registry, tester, { runId, draftVersion, reports: dated });
      await submitRun(registry, tester, { runId, draftVersion: filled.draftVersion });
      const { uncertainty } = (await caseOf(runId)).engineCase;
      us.push(uncertainty?.airTemperatureC?.u ?? 0, uncertainty?.alongWindMps?.u ?? 0);
    }
    const [nearT, nearW, farT, farW] = us as [number, number, number, number];
    expect(farT).toBeGreaterThan(nearT * 1.5);
    expect(farW).toBeGreaterThan(nearW);
  });

  it('leaves the simple rule to a value that is not the report’s', async () => {
    const { runId, draftVersion } = await draft({ startedAtLocal: '2026-05-17T09:30' });
    const dated = reports.replaceAll('XAIS 14', 'XAIS 17');
    await fillWeather(registry, tester, { runId, draftVersion, reports: dated });
    const run = await prisma.run.findUniqueOrThrow({ where: { id: runId } });
    const form = { ...(run.draft as Record<string, string>), airTemperature: '19' };
    await submitRun(registry, tester, { runId, draftVersion: draftVersion + 1, form });
    // a station: 1 °C, and half a degree more for every 30 km
    expect((await caseOf(runId)).engineCase.uncertainty?.airTemperatureC?.u).toBeCloseTo(
      Math.hypot(1, 0.2),
      6,
    );
  });

  it('refuses with reasons, strangers, and a draft that moved on', async () => {
    const { runId, draftVersion } = await draft();
    const fill = (input: object, actor: Actor | undefined = tester) =>
      fillWeather(registry, actor, { runId, draftVersion, reports, ...input });
    await expect(fill({ reports: 'sunny all day' })).rejects.toThrow(InvalidInput);
    await expect(fill({ reports: '' })).rejects.toThrow(InvalidInput);
    await expect(fill({}, other)).rejects.toThrow(NotAllowed);
    await fill({});
    await expect(fill({})).rejects.toThrow(Conflict);
  });
});
