import type { RunForm } from '@/lib/run/runForm';
import type { DemoPhoto, DemoPhotoLine } from './types';

/** What the photos of a run would show; values are the form's own texts, as a careful tester copies them. */
export function photosOf(form: RunForm, isCharging: boolean): DemoPhoto[] {
  const clock = (form.startedAtLocal ?? '').replace('T', ' ');
  const line = (label: string, field: string): DemoPhotoLine[] => {
    const value = form[field] ?? '';
    return value === '' ? [] : [[label, value, plainUnit(form, field)]];
  };
  const photos: DemoPhoto[] = [
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
  return photos;
}

function plainUnit(form: RunForm, field: string): string {
  if (field === 'tripDuration') return 'h:min';
  if (field === 'chargerEnergy') return form[`${field}Unit`] ?? 'kWh';
  return form[`${field}Unit`] ?? '';
}
