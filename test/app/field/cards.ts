import type { FieldPhoto, FieldRun } from '@/app/(field)/field/fieldRun';
import { newFieldRun } from '@/app/(field)/field/fieldRun';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';

export const LISTS: FieldLists = {
  accountId: '018f0000-0000-7000-8000-00000000000a',
  displayName: 'Mira Holm',
  units: { tripDistance: 'km', tripEfficiency: 'kWh/100km' },
  cars: [
    {
      id: 'car-a',
      name: 'Skerry',
      modelId: 'model-a',
      model: 'Tarn Works Skerry 2025',
      usableCapacityWh: 120_000,
      placardFrontPa: undefined,
      placardRearPa: undefined,
      units: { tripDistance: 'mi', tripEfficiency: 'mi/kWh' },
      setups: [
        { id: 'setup-1', title: 'as delivered' },
        { id: 'setup-2', title: 'ride height low' },
      ],
    },
    {
      id: 'car-b',
      name: 'Moss',
      modelId: 'model-b',
      model: 'Tarn Works Moss 2025',
      usableCapacityWh: undefined,
      placardFrontPa: undefined,
      placardRearPa: undefined,
      units: {},
      setups: [{ id: 'setup-3', title: 'as delivered' }],
    },
  ],
  hasMoreLoops: false,
  studies: [],
  days: [],
  loops: [
    {
      id: 'loop-a',
      name: 'North causeway',
      region: 'Outer Isles',
      length: '107.5 km',
      postedLimit: '110 km/h',
      cruiseClassKeys: ['kmh-100', 'kmh-110'],
    },
    {
      id: 'loop-b',
      name: 'South bank',
      region: 'Outer Isles',
      length: '60.0 km',
      postedLimit: '100 km/h',
      cruiseClassKeys: ['kmh-100'],
    },
  ],
};

export function card(changes: Partial<FieldRun> = {}): FieldRun {
  return { ...newFieldRun('key-of-a-run', LISTS, 1000), ...changes };
}

export function photo(changes: Partial<FieldPhoto> = {}): FieldPhoto {
  return {
    id: 'key-of-a-run:finishDisplay:abc',
    runKey: 'key-of-a-run',
    accountId: LISTS.accountId,
    kind: 'finishDisplay',
    bytes: new Uint8Array([1, 2, 3]),
    mediaType: 'image/jpeg',
    addedAtMs: 1,
    ...changes,
  };
}
