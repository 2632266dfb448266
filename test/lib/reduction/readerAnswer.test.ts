import { describe, expect, it } from 'vitest';
import { conditionsAsked } from '@/lib/physics/estimate/conditionsAsked';
import { readerAnswer } from '@/lib/reduction/readerAnswer';
import { reduceRun } from '@/lib/reduction/reduceRun';
import { runParts } from '@/lib/reduction/runParts';
import { parseEstimate } from '@/lib/run/estimate/parseEstimate';
import { ENGINE, snapshotOf } from './exampleSnapshot';

const snapshot = snapshotOf();
const classSpeedMps = snapshot.cruiseClass.speedMps;
const estimated = { subject: snapshot, learned: undefined, logMean: Math.log(260), classSpeedMps };

function conditions(form: Record<string, string> = {}, speedMps = classSpeedMps) {
  const parsed = parseEstimate(form);
  if (!parsed.ok) throw new Error('not as it should be');
  return conditionsAsked(parsed.asked, speedMps, snapshot.model.hasHeatPump);
}
function answered(...of: Parameters<typeof conditions>) {
  const found = readerAnswer(estimated, conditions(...of), undefined);
  if (found.refusal !== null) throw new Error('refused');
  return found;
}

describe('the answer to a reader', () => {
  it('is the setup’s estimate at reference conditions', () => {
    const { valueWhPerKm, referenceWhPerKm, term, steps } = answered();
    expect(referenceWhPerKm).toBeCloseTo(260, 9);
    // dry air of 100 kPa is lighter than 1.189 kg/m³ by less than a thousandth, and calm is never quite calm
    expect(Math.abs(valueWhPerKm / 260 - 1)).toBeLessThan(0.002);
    expect(steps.reduce((sum, { deltaWhPerKm }) => sum + deltaWhPerKm, 260)).toBeCloseTo(valueWhPerKm, 6);
    expect(term.gain).toBeCloseTo(1, 2);
  });

  it('rises with cold, wind ahead, climb and speed, and falls with wind behind', () => {
    const of = (form: Record<string, string>, speedMps?: number) => answered(form, speedMps).valueWhPerKm;
    const still = of({});
    const harder: Record<string, string>[] = [
      { air: '-5' },
      { windSpeed: '5', windFrom: 'ahead' },
      { climb: '400' },
    ];
    for (const form of harder) expect(of(form), JSON.stringify(form)).toBeGreaterThan(1.01 * still);
    expect(of({}, classSpeedMps + 2)).toBeGreaterThan(1.01 * still);
    expect(of({ windSpeed: '5', windFrom: 'behind' })).toBeLessThan(0.99 * still);
    expect(of({ load: '400' })).toBeGreaterThan(0);
  });

  it('names its parts as the registry keys those of the runs, and brings the reader’s own', () => {
    const owners = { sessionId: 's', carId: 'c', loopId: 'l', modelId: snapshot.model.id, setupId: 'any' };
    const behind = new Set(
      runParts(owners, reduceRun(snapshot, ENGINE).reduction.normalisation)
        .filter(({ scope }) => scope === 'model' || scope === 'method')
        .map(({ input, key, scope }) => `${scope} ${input} of ${key}`),
    );
    const { term } = answered({ air: '-5', windSpeed: '4' });
    const shared = term.direct.filter(({ scope }) => scope === 'model' || scope === 'method');
    const known = shared.filter(({ scope, key }) => behind.has(`${scope} ${key}`));
    expect(known.length).toBeGreaterThan(4);
    expect(known.map(({ key }) => key.split(' of ')[0])).toEqual(
      expect.arrayContaining(['dragAreaM2', 'rollingCoefficient', 'massKg', 'rollingTemperaturePerK']),
    );
    expect(term.direct.some(({ scope, key }) => scope === 'session' && key.includes('reader'))).toBe(true);
  });

  it('is refused outside the method’s reach, with the nearest that is within', () => {
    const found = readerAnswer(estimated, conditions({ air: '-30' }, classSpeedMps + 5), undefined);
    expect(found.refusal?.nearest.map(({ condition, nearest }) => [condition, nearest])).toEqual([
      ['airTemperatureC', -20],
      ['cruiseSpeedMps', expect.closeTo(classSpeedMps + 10 / 3.6, 9)],
    ]);
  });
});
