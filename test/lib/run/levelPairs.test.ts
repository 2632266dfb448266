import { describe, expect, it } from 'vitest';
import { levelPairs, type MappedSetup } from '@/lib/run/levelPairs';
import { fullLevels, type Level } from '@/lib/run/setupLevels';

const LEVELS: Level[] = [
  { factor: 'rideHeight', key: 'normal', label: 'Normal', isBaseline: true },
  { factor: 'rideHeight', key: 'low', label: 'Low', isBaseline: false },
  { factor: 'rideHeight', key: 'lowest', label: 'Lowest', isBaseline: false },
  { factor: 'driveMode', key: 'comfort', label: 'Comfort', isBaseline: true },
  { factor: 'driveMode', key: 'eco', label: 'Eco', isBaseline: false },
];

/** A setup by what it names beyond what was delivered. */
function setup(setupId: string, runs: number, ...named: string[]): MappedSetup {
  const levels = named.flatMap((key) => {
    const level = LEVELS.find((one) => one.key === key);
    return level === undefined ? [] : [{ factor: level.factor, level }];
  });
  return { setupId, runs, levels: fullLevels({ levels }, LEVELS) };
}

const BETWEEN = { baseline: 'shared normal', level: 'shared low' };
const MAPPED = new Map([
  ['normal', 'shared normal'],
  ['low', 'shared low'],
]);

describe('pairs of setups that show a shared level', () => {
  it('differ in that factor alone, those with the rest as delivered first', () => {
    const setups = [
      setup('eco', 40),
      setup('plain', 9),
      setup('low', 7, 'low'),
      setup('eco only', 40, 'eco'),
      setup('eco low', 30, 'eco', 'low'),
    ].filter(({ setupId }) => setupId !== 'eco');
    expect(levelPairs(setups, 'rideHeight', MAPPED, BETWEEN)).toEqual([
      { baselineId: 'plain', setupId: 'low', isOtherwiseDelivered: true, runs: 7 },
      { baselineId: 'eco only', setupId: 'eco low', isOtherwiseDelivered: false, runs: 30 },
    ]);
  });

  it('are none where a level is not mapped', () => {
    const setups = [setup('plain', 9), setup('lowest', 9, 'lowest')];
    expect(levelPairs(setups, 'rideHeight', MAPPED, BETWEEN)).toEqual([]);
    const onlyLow = new Map([['low', 'shared low']]);
    expect(levelPairs([setup('plain', 9), setup('low', 9, 'low')], 'rideHeight', onlyLow, BETWEEN)).toEqual(
      [],
    );
  });

  it('are those of two levels that are mapped to one, the one with more runs first', () => {
    const both = new Map([...MAPPED, ['lowest', 'shared low']]);
    const setups = [setup('plain', 9), setup('low', 3, 'low'), setup('lowest', 8, 'lowest')];
    expect(levelPairs(setups, 'rideHeight', both, BETWEEN).map(({ setupId }) => setupId)).toEqual([
      'lowest',
      'low',
    ]);
  });
});
