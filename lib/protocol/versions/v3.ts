import type { ShippedVersion } from '../parameters';
import { PROTOCOL_V2 } from './v2';

/**
 * The third protocol version: the first that holds photos against those of other runs and against the clock. Its
 * limits are our own judgement; how many bits may differ was measured (see lib/files/pictureHash.ts).
 */
export const PROTOCOL_V3 = {
  label: '3.0',
  summary:
    'The limits of version 2.0 and three rules more, on photos: one that is on a run of another tester fails, one that is on another run of one’s own or looks like a photo of another run is a caution, and so is one taken long before the start or long after the finish. The limits are judgements of our own.',
  parameters: {
    ...PROTOCOL_V2.parameters,
    pictures: {
      sameAsAnother: 'fail',
      sameAsOwn: 'caution',
      nearlySame: 'caution',
      nearlySameUpToBits: 7,
    },
    // Half an hour to warm up after the display was reset, and three to find a charger after the finish.
    photoTime: { beforeStartUpToS: 1800, afterFinishUpToS: 10_800 },
  },
} satisfies ShippedVersion;
