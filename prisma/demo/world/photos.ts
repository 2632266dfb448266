import type { RunForm } from '@/lib/run/runForm';
import type { RandomStream } from './randomStream';
import type { DemoHold, DemoPhoto, DemoPhotoLine } from './types';

/** So many patches of light and shade that two photos do not look alike to a perceptual hash. */
const PATCHES = 12;

/**
 * What the photos of a run would show; values are the form's own texts, as a careful tester copies them.
 *
 * @param hand draws how the camera was held, and nothing else: readings and truth keep their own streams
 */
export function photosOf(form: RunForm, isCharging: boolean, hand: RandomStream): DemoPhoto[] {
  const clock = (form.startedAtLocal ?? '').replace('T', ' ');
  const line = (label: string, field: string): DemoPhotoLine[] => {
    const value = form[field] ?? '';
    return value === '' ? [] : [[label, value, plainUnit(form, field)]];
  };
  const photos: Omit<DemoPhoto, 'held'>[] = [
    {
      kind: 'startDisplay',
      heading: `START ${clock}`,
      lines: [
        ['DISTANCE', '0.0', form.tripDistanceUnit ?? 'km'],
        ['ENERGY', '0.0', form.tripEnergyUnit ?? 'kWh'],
        ['CHARGE', form.chargeStart ?? '', '%'],
        ...line('ODOMETER', 'odometerStart'),
      ],
    },
    {
      kind: 'finishDisplay',
      heading: `FINISH ${clock.slice(0, 10)}`,
      lines: [
        ...line('DISTANCE', 'tripDistance'),
        ...line('ENERGY', 'tripEnergy'),
        ...line('CONSUMPTION', 'tripEfficiency'),
        ...line('TIME', 'tripDuration'),
        ...line('MEAN SPEED', 'tripMeanSpeed'),
        ['CHARGE', form.chargeEnd ?? '', '%'],
        ...line('ODOMETER', 'odometerEnd'),
      ],
    },
  ];
  if (isCharging && (form.chargerEnergy ?? '') !== '') {
    photos.push({
      kind: 'charger',
      heading: `CHARGER ${clock.slice(0, 10)}`,
      lines: [...line('DELIVERED', 'chargerEnergy'), ['KIND', (form.chargerKind ?? '').toUpperCase(), '']],
    });
  }
  return photos.map((photo) => ({ ...photo, held: heldBy(hand) }));
}

function heldBy(hand: RandomStream): DemoHold {
  return {
    rightBy: hand.uniform(-40, 40),
    downBy: hand.uniform(-30, 30),
    turnedDeg: hand.uniform(-7, 7),
    enlargedBy: hand.uniform(0.7, 0.95),
    patches: Array.from({ length: PATCHES }, () => ({
      x: hand.uniform(0, 480),
      y: hand.uniform(0, 320),
      radius: hand.uniform(35, 110),
      isLight: hand.chance(0.4),
      opacity: hand.uniform(0.15, 0.4),
    })),
  };
}

function plainUnit(form: RunForm, field: string): string {
  if (field === 'tripDuration') return 'h:min';
  if (field === 'chargerEnergy') return form[`${field}Unit`] ?? 'kWh';
  return form[`${field}Unit`] ?? '';
}
