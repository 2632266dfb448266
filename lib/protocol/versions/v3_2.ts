import type { ShippedVersion } from '../parameters';
import { PROTOCOL_V3_1 } from './v3_1';

/**
 * Version 3.2: the first that takes a wind whose direction nobody knows. Its limits are our own judgement: at 110 km/h
 * on a straight out-and-back such a wind of 5 m/s makes a result about 0.8 % less certain, one of 3 m/s about 0.3 %
 * (method A4, with a typical car's share of air drag), and days of one car differ by about 1.2 %.
 */
export const PROTOCOL_V3_2 = {
  label: '3.2',
  summary:
    'The limits of version 3.1 and one rule more: a mean wind of which no direction is known is accepted up to 2 m/s, and with a caution up to 3 m/s. A run that was recorded afterwards may lack the direction up to 5 m/s. The limits are judgements of our own.',
  parameters: {
    ...PROTOCOL_V3_1.parameters,
    windDirection: { passUpToMps: 2, cautionUpToMps: 3 },
    retrospective: {
      ...PROTOCOL_V3_1.parameters.retrospective,
      limits: { windDirection: { cautionUpToMps: 5 } },
    },
  },
} satisfies ShippedVersion;
