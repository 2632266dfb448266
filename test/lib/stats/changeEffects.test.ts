import { describe, expect, it } from 'vitest';
import { changeEffects } from '@/lib/stats/changeEffects';
import type { PairContrast } from '@/lib/stats/orientedContrast';

const change = {
  setup: { setupId: 'low' },
  factor: 'rideHeight',
  from: { key: 'normal' },
  to: { key: 'low' },
};

/** As a fit stores it, the setup less the baseline: 4 % less. */
const contrast: PairContrast = {
  setupAId: 'low',
  setupBId: 'base',
  kind: 'session',
  chainLength: 1,
  differenceLog: Math.log(0.96),
  logSe: 0.01,
  dof: 9,
  lowLog: Math.log(0.94),
  highLog: Math.log(0.98),
  simultaneousLowLog: Math.log(0.93),
  simultaneousHighLog: Math.log(0.99),
  modelLowLog: null,
  modelHighLog: null,
  word: 'settled',
  restsOn: [],
  otherWays: undefined,
  sharedULog: 0,
  reason: null,
};

const context = {
  baselineId: 'base',
  levels: new Map([
    ['base', { rideHeight: 'normal' }],
    ['low', { rideHeight: 'low' }],
  ]),
  contrasts: [contrast],
  cells: [],
  countsOf: (setupId: string) => (setupId === 'base' ? { cars: 5, testers: 2 } : { cars: 1, testers: 1 }),
  leastCars: 3,
  fit: {
    repeatability: null,
    components: { car: 1e-4, carLoop: 0, session: 1e-4, residual: 1e-4 },
    origins: { car: 'own', carLoop: 'none', session: 'own', residual: 'own' } as const,
  },
};

describe('what a single change did', () => {
  it('is in per cent of the baseline, whichever way round the pair is stored', () => {
    const [asStored] = changeEffects([change], context);
    expect(asStored?.percent).toBeCloseTo(-4, 10);
    expect(asStored?.simultaneous?.[0]).toBeCloseTo(-7, 10);
    const turned = {
      ...contrast,
      setupAId: 'base',
      setupBId: 'low',
      differenceLog: -Math.log(0.96),
      lowLog: -Math.log(0.98),
      highLog: -Math.log(0.94),
      simultaneousLowLog: -Math.log(0.99),
      simultaneousHighLog: -Math.log(0.93),
    };
    const [other] = changeEffects([change], { ...context, contrasts: [turned] });
    expect(other?.percent).toBeCloseTo(-4, 10);
    expect(other?.pointwise?.[0]).toBeCloseTo(-6, 10);
    expect(other?.pointwise?.[1]).toBeCloseTo(-2, 10);
  });

  it('is refused in words with the cars on both sides', () => {
    const none = { ...contrast, differenceLog: null, reason: 'too few cars on one side' };
    const [refused] = changeEffects([change], { ...context, contrasts: [none] });
    expect(refused).toMatchObject({ percent: null });
    expect(refused?.refusal).toContain('3 cars on each side; there are 5 and 1');
    expect(changeEffects([change], { ...context, contrasts: [] })[0]?.refusal).toMatch(
      /not among the published differences/,
    );
  });

  it('says what the sessions with both show by themselves: of one, its own difference', () => {
    const cell = { carId: 'car', sessionId: 'day', runs: 2, variance: 0.0001 };
    const cells = [
      { ...cell, setupId: 'base', mean: Math.log(250) },
      { ...cell, setupId: 'low', mean: Math.log(240) },
      { ...cell, setupId: 'gone', mean: Math.log(100) },
    ];
    const [effect] = changeEffects([change], { ...context, cells });
    expect(effect?.withinSessions).toMatchObject({ sessions: 1, cars: 1 });
    expect(effect?.withinSessions?.percent).toBeCloseTo(-4, 10);
    expect(changeEffects([change], context)[0]?.withinSessions).toBeNull();
  });

  it('takes a word that nobody knows for none', () => {
    const odd = { ...contrast, word: 'certain' };
    expect(changeEffects([change], { ...context, contrasts: [odd] })[0]?.word).toBeNull();
  });
});
