import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readReduction } from '@/lib/reduction/stored';
import { addCalibration, changeTyres } from '@/lib/registry/cars/calibrations';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, submitted, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
const MPH = 1609.344 / 3600;

let tester: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  for (const [instrument, factor] of [
    ['speedometer', 0.982],
    ['odometer', 0.994],
  ] as const) {
    await addCalibration(registry, tester, {
      carId: vehicle.carId,
      instrument,
      factor,
      standardUncertainty: 0.002,
      method: 'Against satellite positioning over 60 km',
      measuredOn: '2026-05-01',
    });
  }
});
afterAll(remove);

async function reductionOf(day: string, changes = {}) {
  const run = await submitted(
    registry,
    tester,
    {
      carId: vehicle.carId,
      setupId: vehicle.baselineId,
      loopId,
      startedAtLocal: `${day}T09:30`,
      trueSpeedMethod: 'calibratedSpeedometer',
      trueSpeed: '69.7',
      indicatedSpeed: '71',
      ...changes,
    },
    false,
  );
  const revision = await prisma.runRevision.findFirstOrThrow({
    where: { runId: run.runId },
    include: { normalisations: true, findings: true },
  });
  const [row] = revision.normalisations;
  const reduction = readReduction(row?.result);
  if (reduction === undefined) throw new Error('the result cannot be read');
  return {
    reduction,
    input: row?.input as { run: { cruiseSpeedMps: number; distanceM: number } },
    finding: (ruleId: string) => revision.findings.find((each) => each.ruleId === ruleId)?.outcome,
  };
}

describe('a car’s calibrations', () => {
  it('make the shown speed the cruise speed of its runs, and are kept with the result', async () => {
    const { reduction, input, finding } = await reductionOf('2026-05-14');
    expect(reduction.speed?.source).toBe('calibratedSpeedometer');
    // 13 days of wear take less than a ten-thousandth off 71 mph × 0.982
    expect(input.run.cruiseSpeedMps / (71 * 0.982 * MPH)).toBeCloseTo(1, 3);
    expect(reduction.speed?.crossCheck?.agrees).toBe(true);
    expect(reduction.distance).toMatchObject({ distanceM: 107_500, uM: 100, source: 'loop' });
    expect(finding('true-speed-verified')).toBe('pass');
  });

  it('correct the odometer where the loop’s length is not known well', async () => {
    await prisma.loop.update({ where: { id: loopId }, data: { lengthUncertaintyM: 2000 } });
    const { reduction, input } = await reductionOf('2026-05-15');
    expect(reduction.distance?.source).toBe('loopAndDisplay');
    expect(reduction.distance?.display?.isCalibrated).toBe(true);
    // 66.8 mi × 0.994 = 106.86 km, known to 0.2 %: the loop's 107.5 ± 2 km hardly moves it
    expect(input.run.distanceM).toBeGreaterThan(106_790);
    expect(input.run.distanceM).toBeLessThan(106_930);
    await prisma.loop.update({ where: { id: loopId }, data: { lengthUncertaintyM: 100 } });
  });

  it('end with a change of tyres', async () => {
    await changeTyres(registry, tester, { carId: vehicle.carId, changedOn: '2026-06-01' });
    const before = await reductionOf('2026-05-31');
    expect(before.reduction.speed?.source).toBe('calibratedSpeedometer');
    const after = await reductionOf('2026-06-01');
    expect(after.reduction.speed?.source).toBe('stated');
    expect(after.reduction.speed?.refusal).toMatch(/tyres/);
    expect(after.input.run.cruiseSpeedMps).toBeCloseTo(69.7 * MPH, 6);
    expect(after.finding('true-speed-verified')).not.toBe('pass');
  });
});
