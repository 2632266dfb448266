import type { FieldEntry } from './entry';

/** What was driven. */
export const SETUP_FIELDS = [
  {
    kind: 'subject',
    name: 'carId',
    section: 'setup',
    label: 'Car',
    hint: 'One of your own cars.',
    isRequired: true,
    day: 'whole',
    of: 'car',
    aliases: ['vehicle', 'my car'],
  },
  {
    kind: 'subject',
    name: 'setupId',
    section: 'setup',
    label: 'Setup',
    hint: 'The configuration driven: one level of each factor.',
    isRequired: true,
    of: 'setup',
    aliases: ['configuration', 'config', 'setting', 'mode', 'drive mode', 'what changed'],
  },
] as const satisfies readonly FieldEntry[];
