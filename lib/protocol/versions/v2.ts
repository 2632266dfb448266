import type { ShippedVersion } from '../parameters';
import { PROTOCOL_V1 } from './v1';

/**
 * The second protocol version: the first with one rule more, on gusts. Its limit is our own judgement. It lies where a
 * weather station begins to code a gust at all: 5 m/s (10 kn) over the mean (WMO-No. 306, FM 15, 15.5.5, from memory).
 */
export const PROTOCOL_V2 = {
  label: '2.0',
  summary:
    'The limits of version 1.0 and one rule more: gusts of more than 5 m/s over the mean wind are a caution. Such a wind pushes the car about the lane, and the mean tells less of what it cost. The limit is a judgement of our own.',
  parameters: { ...PROTOCOL_V1.parameters, gusts: { passUpToMps: 5 } },
} satisfies ShippedVersion;
