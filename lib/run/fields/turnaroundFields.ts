import type { FieldEntry } from './entry';
import { LENGTH_UNITS } from './unitChoices';

/** What the display shows half way. */
export const TURNAROUND_FIELDS = [
  {
    kind: 'quantity',
    name: 'outboundDistance',
    section: 'turnaround',
    label: 'Distance at turnaround',
    hint: 'Since the start.',
    units: LENGTH_UNITS,
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    range: [500, 1_000_000],
    card: { step: 'turnaround', place: 10 },
  },
  {
    kind: 'quantity',
    name: 'outboundEnergy',
    section: 'turnaround',
    label: 'Energy at turnaround',
    hint: 'Since the start. With the total it shows what the wind did.',
    units: ['kWh', 'Wh'],
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    range: [50, 200_000],
    card: { step: 'turnaround', place: 20 },
  },
  {
    kind: 'quantity',
    name: 'outboundDuration',
    section: 'turnaround',
    label: 'Time at turnaround',
    hint: 'Minutes, or h:mm.',
    units: ['min', 'h'],
    moment: 'turnaround',
    instrument: 'carDisplay',
    isRequired: false,
    range: [30, 86_400],
    card: { step: 'turnaround', place: 30 },
  },
] as const satisfies readonly FieldEntry[];
