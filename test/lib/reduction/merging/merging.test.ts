import { describe, expect, it } from 'vitest';
import { placeSetups, type StandingLevel } from '@/lib/reduction/merging/placeSetups';
import {
  type CarToHold,
  type LevelToHold,
  levelInOther,
  type ModelToHold,
  refusalOfCars,
  refusalOfLevels,
  refusalOfModels,
} from '@/lib/reduction/merging/refusals';

const standing = (id: string, key: string, isBaseline = false, factor = 'rideHeight'): StandingLevel => ({
  id,
  factor,
  key,
  label: key,
  isBaseline,
});
const LOW = standing('low', 'low');
const NORMAL = standing('normal', 'normal', true);
const ECO = standing('eco', 'eco', false, 'driveMode');
const named = (...levels: StandingLevel[]) => levels.map(({ factor, id }) => ({ factor, levelId: id }));

describe('where setups go once some of their levels are others', () => {
  const lowered = standing('lowered', 'lowered');
  const now = (id: string) => [LOW, NORMAL, ECO].find((level) => level.id === id) ?? LOW;

  it('one that nobody else is goes on under the other level; one that is there already becomes that', () => {
    const placed = placeSetups(
      [
        { id: 'a', title: 'Ride height: lowered', levels: named(lowered) },
        { id: 'b', title: 'Both', levels: named(lowered, ECO) },
      ],
      now,
      new Map([['rideHeight=low', 'there']]),
    );
    expect(placed).toEqual([
      { setupId: 'a', kind: 'joins', title: 'Ride height: lowered', intoId: 'there' },
      {
        setupId: 'b',
        kind: 'moves',
        levelsKey: 'driveMode=eco;rideHeight=low',
        title: 'Drive mode: eco · Ride height: low',
        levels: [
          { factor: 'rideHeight', levelId: 'low' },
          { factor: 'driveMode', levelId: 'eco' },
        ],
      },
    ]);
  });

  it('a level that turns out to be as delivered tells no setups apart, also among those that go', () => {
    const placed = placeSetups(
      [
        { id: 'a', title: 'A', levels: named(lowered) },
        { id: 'b', title: 'B', levels: [] },
      ],
      () => NORMAL,
      new Map(),
    );
    expect(placed).toMatchObject([
      { kind: 'moves', levelsKey: '', title: 'As delivered' },
      { kind: 'joins', intoId: 'a' },
    ]);
  });
});

const car = (changes: Partial<CarToHold> = {}): CarToHold => ({
  id: 'one',
  name: 'One',
  ownerId: 'mira',
  modelId: 'skerry',
  world: 'record',
  hiddenAt: null,
  registeredMassKg: 2900,
  usableCapacityWh: null,
  usableCapacityUWh: null,
  dragAreaM2: null,
  rollingCoefficient: null,
  coastDownF0N: null,
  coastDownF1NPerKmh: null,
  coastDownF2NPerKmh2: null,
  placardFrontPa: 290_000,
  placardRearPa: 290_000,
  ...changes,
});
const sent = { sent: 3, open: 0 };

describe('two entries of one vehicle', () => {
  it('become one where nothing differs that a run was computed from', () => {
    expect(refusalOfCars(car(), car({ id: 'two' }), sent)).toBeUndefined();
  });

  it.each([
    [car(), 'itself'],
    [car({ id: 'two', world: 'demo' }), 'different worlds'],
    [car({ id: 'two', hiddenAt: new Date(0) }), 'hidden'],
    [car({ id: 'two', modelId: 'brisk' }), 'two models'],
    [car({ id: 'two', registeredMassKg: null }), '2900 kg and not stated'],
    [car({ id: 'two', placardRearPa: 300_000 }), 'corrected first'],
  ])('else not, and it says why: %#', (into, why) => {
    expect(refusalOfCars(car(), into, sent)).toContain(why);
  });

  it('of which no run was sent, what it states is let go', () => {
    expect(
      refusalOfCars(car(), car({ id: 'two', registeredMassKg: 3000 }), { sent: 0, open: 1 }),
    ).toBeUndefined();
  });

  it('of two testers wait until nothing of the one is open that could not be sent any more', () => {
    const into = car({ id: 'two', ownerId: 'jonas' });
    expect(refusalOfCars(car(), into, { sent: 3, open: 1 })).toContain('not decided on');
    expect(refusalOfCars(car(), into, sent)).toBeUndefined();
  });
});

const level = (id: string, changes: Partial<LevelToHold & { mergedIntoId: string | null }> = {}) => ({
  ...standing(id, id),
  tyreKind: null,
  sharedLevelId: null,
  hiddenAt: null,
  mergedIntoId: null,
  ...changes,
});

describe('two names of one level', () => {
  it.each([
    [level('low'), level('low'), 0, 'itself'],
    [level('low'), level('eco', { factor: 'driveMode' }), 0, 'two factors'],
    [level('low'), level('lower', { hiddenAt: new Date(0) }), 0, 'hidden'],
    [level('normal', { isBaseline: true }), level('low'), 0, 'the other one into it'],
    [level('low'), level('normal', { isBaseline: true }), 1, 'Rename the level instead'],
    [level('low'), level('lower', { tyreKind: 'road' }), 1, 'two kinds of tyre'],
    [level('low', { sharedLevelId: 'a' }), level('lower', { sharedLevelId: 'b' }), 1, 'across models'],
  ])('stay two, and it says why: %#', (from, into, runs, why) => {
    expect(refusalOfLevels(from, into, runs)).toContain(why);
  });

  it('become one', () => {
    expect(refusalOfLevels(level('low'), level('lower', { sharedLevelId: 'b' }), 9)).toBeUndefined();
    expect(refusalOfLevels(level('low'), level('normal', { isBaseline: true }), 0)).toBeUndefined();
  });
});

describe('two entries of one model', () => {
  const model = (id: string, changes: Partial<ModelToHold> = {}): ModelToHold => ({
    id,
    maker: { name: 'Tarn Works' },
    modelYear: 2025,
    world: 'record',
    hiddenAt: null,
    bodyClass: 'pickup',
    kerbMassKg: 2900,
    usableCapacityWh: 120_000,
    dragAreaM2: null,
    hasHeatPump: false,
    levels: [level('normal', { isBaseline: true }), level('low')],
    ...changes,
  });

  it('become one where their data sheets say the same, and where no run rests on the other', () => {
    expect(refusalOfModels(model('a'), model('b'), 5)).toBeUndefined();
    expect(refusalOfModels(model('a'), model('b', { kerbMassKg: 3000 }), 5)).toContain('Kerb mass');
    expect(refusalOfModels(model('a'), model('b', { kerbMassKg: 3000 }), 0)).toBeUndefined();
  });

  it('not where a level is as delivered in the one and a change in the other', () => {
    const other = model('b', { levels: [level('low', { isBaseline: true })] });
    expect(refusalOfModels(model('a', { levels: [level('low')] }), other, 0)).toContain('as delivered');
  });

  it('have the levels of the same key in common, and what is as delivered by any name', () => {
    const others = [
      level('standard', { isBaseline: true }),
      level('lowest', { mergedIntoId: 'low2' }),
      level('low2'),
    ];
    expect(levelInOther(level('normal', { isBaseline: true }), others)?.id).toBe('standard');
    expect(levelInOther(level('low2'), others)?.id).toBe('low2');
    expect(levelInOther(level('lowest'), others)?.id).toBe('low2');
    expect(levelInOther(level('high'), others)).toBeUndefined();
  });
});
