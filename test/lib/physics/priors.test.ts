import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  allPriors,
  auxiliaryPowerPrior,
  PRIORS_VERSION,
  priorU,
  READING_PRIORS,
  youngClassSpread,
} from '@/lib/physics/priors';

describe('the table of priors', () => {
  it('states a source, a unit and a range that holds the value for every line', () => {
    const lines = allPriors();
    expect(lines.length).toBeGreaterThan(30);
    for (const line of lines) {
      expect(line.source.length).toBeGreaterThan(5);
      if (line.high > line.low) {
        expect(line.value).toBeGreaterThanOrEqual(line.low);
        expect(line.value).toBeLessThanOrEqual(line.high);
      }
      expect(line.u).toBeGreaterThanOrEqual(0);
    }
    expect(new Set(lines.map((line) => line.label)).size).toBe(lines.length);
  });

  it('says under its version what it always said: another line is another version', async () => {
    const path = resolve(import.meta.dirname, `../../reference/priors/${PRIORS_VERSION}.json`);
    expect(allPriors()).toEqual(JSON.parse(await readFile(path, 'utf8')));
  });

  it('holds what a young class borrows (common practice, no source)', () => {
    expect(youngClassSpread()).toEqual({ carSd: 0.015, sessionSd: 0.012, runSd: 0.008 });
  });
});

describe('auxiliary power', () => {
  // the stated points (common practice, no source)
  it('is 350 W off, 700 mild, 1500 cooling at 35 °C, 2500 heating at −5 °C and 40 % less with a heat pump', () => {
    expect(auxiliaryPowerPrior('off', -5)).toEqual({ valueW: 350, uW: 150 });
    expect(auxiliaryPowerPrior('mild', 35)).toEqual({ valueW: 700, uW: 300 });
    expect(auxiliaryPowerPrior('cooling', 35)).toEqual({ valueW: 1500, uW: 500 });
    expect(auxiliaryPowerPrior('heating', -5)).toEqual({ valueW: 2500, uW: 900 });
    expect(auxiliaryPowerPrior('heating', -5, true)).toEqual({ valueW: 1500, uW: 540 });
  });

  it('falls to that of climate off at 20 °C', () => {
    expect(auxiliaryPowerPrior('heating', 20)).toEqual({ valueW: 350, uW: 150 });
    expect(auxiliaryPowerPrior('cooling', 15)).toEqual({ valueW: 350, uW: 150 });
    expect(auxiliaryPowerPrior('heating', 5).valueW).toBeCloseTo(350 + 2150 * 0.6, 9);
  });
});

describe('a prior uncertainty', () => {
  it('combines an absolute and a relative part', () => {
    expect(priorU(READING_PRIORS.wind, 0)).toBe(0.3);
    expect(priorU(READING_PRIORS.auxiliaryPowerW, 1000)).toBeCloseTo(Math.hypot(75, 300), 9);
    expect(priorU(READING_PRIORS.distanceM, 50_000)).toBe(100);
  });
});
