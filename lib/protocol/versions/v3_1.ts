import type { ShippedVersion } from '../parameters';
import { PROTOCOL_V3 } from './v3';

/**
 * Version 3.1: the first that holds a run against other runs' numbers. Its limits are our own judgement; how often they
 * cry wolf over the demo world, and how often they find forgeries, is counted by `npm run bench -- alarms`.
 */
export const PROTOCOL_V3_1 = {
  label: '3.1',
  summary:
    'The limits of version 3.0 and six rules more, which hold a run against runs that were there before: all readings of another tester’s run and two runs of one car at once fail; readings that are nearly another tester’s, two cars of one tester at once, last digits that displays do not show and runs that agree too well are cautions; and a run that nothing but its form tells of is marked. The limits are judgements of our own.',
  parameters: {
    ...PROTOCOL_V3.parameters,
    copies: { sameFromReadings: 7, sameAsAnother: 'fail', sameAsOwn: 'caution' },
    // Half of the last digit of a display is about 0.2 % of what a loop takes.
    nearCopies: { withinShare: 0.002, fromReadings: 6, outcome: 'caution' },
    overlaps: { upToS: 300, ofOneCar: 'fail', ofOneTester: 'caution' },
    // Fifty make five expected of each digit.
    digits: { fromReadings: 50, passFromPValue: 0.0001, outcome: 'caution' },
    spread: { fromDof: 4, passFromPValue: 0.001, outcome: 'caution' },
    trace: { without: 'notChecked' },
  },
} satisfies ShippedVersion;
