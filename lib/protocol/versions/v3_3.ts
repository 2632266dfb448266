import type { ShippedVersion } from '../parameters';
import { PROTOCOL_V3_2 } from './v3_2';

/**
 * Version 3.3: the first that looks at how runs scatter setup by setup, and among testers who count as one. Its limits
 * are those of the tester's own runs; `npm run bench -- alarms` counts how often each cries wolf and what it finds.
 */
export const PROTOCOL_V3_3 = {
  label: '3.3',
  summary:
    'The limits of version 3.2 and two rules more: all runs of one setup, and all of testers who count as one, are held against the scatter of their class as the runs of one tester are, and are a caution where they agree too well. The limits are judgements of our own.',
  parameters: {
    ...PROTOCOL_V3_2.parameters,
    spreadOfSetup: { ...PROTOCOL_V3_2.parameters.spread },
    spreadOfCluster: { ...PROTOCOL_V3_2.parameters.spread },
  },
} satisfies ShippedVersion;
