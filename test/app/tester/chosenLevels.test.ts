import { expect, it } from 'vitest';
import { chosenLevels } from '@/app/(tester)/my/setups/new/chosenLevels';

it('takes a new name before a picked level, one choice a factor, and nothing where nothing was said', () => {
  expect(
    chosenLevels({
      'level.rideHeight': 'id-low',
      'level.driveMode': 'id-eco',
      'newLevel.driveMode': ' Calm ',
      'newLevel.wheelTyre': '20 inch',
      tyreKind: 'allTerrain',
      'level.load': '',
    }),
  ).toEqual([
    { factor: 'driveMode', newLabel: 'Calm' },
    { factor: 'rideHeight', levelId: 'id-low' },
    { factor: 'wheelTyre', newLabel: '20 inch', tyreKind: 'allTerrain' },
  ]);
});

it('passes the delivered level on with a new one only', () => {
  expect(
    chosenLevels({
      'newLevel.rideHeight': 'low',
      'delivered.rideHeight': 'standard',
      'delivered.driveMode': 'normal',
    }),
  ).toEqual([{ factor: 'rideHeight', newLabel: 'low', deliveredLabel: 'standard' }]);
});
