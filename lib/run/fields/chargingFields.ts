import type { FieldEntry } from './entry';

/** Coming back to the charge of the start. */
export const CHARGING_FIELDS = [
  {
    kind: 'choice',
    name: 'chargerKind',
    section: 'charging',
    label: 'Charger',
    hint: '',
    isRequired: false,
    options: [
      { value: 'dc', label: 'Fast charger (DC)' },
      { value: 'ac', label: 'Wall box or socket (AC)' },
    ],
    card: { step: 'pluggedIn', place: 10 },
  },
  {
    kind: 'quantity',
    name: 'chargerEnergy',
    section: 'charging',
    label: 'Energy delivered by the charger',
    hint: 'To come back to the start charge. Read from the charger, not the car.',
    units: ['kWh', 'Wh'],
    moment: 'charger',
    instrument: 'charger',
    isRequired: false,
    range: [200, 500_000],
    card: { step: 'pluggedIn', place: 10 },
  },
] as const satisfies readonly FieldEntry[];
