import { sectionLabel } from '@/lib/run/fields/sections';
import { photoLabel, QUANTITY_FIELDS } from '@/lib/run/fields/table';
import type { DossierRevision } from '@/lib/store/runPages';
import { CANONICAL_UNITS, dimensionOf, isUnitCode, type UnitCode, unitSymbol } from '@/lib/units/unit';

/** A number as its display showed it and as it was understood. */
export interface ShownReading {
  quantity: string;
  label: string;
  section: string;
  /** Text and unit as entered. */
  enteredText: string;
  enteredUnit: string;
  /** In the canonical unit, or in % for a share. */
  value: number;
  low: number;
  high: number;
  unit: UnitCode;
  moment: string;
  instrument: string;
}

export interface ShownPhoto {
  id: string;
  kind: string;
  label: string;
  sha256: string;
  thumbSha256: string;
  widthPx: number;
  heightPx: number;
  capturedAt: string | null;
}

const MOMENTS: Readonly<Record<string, string>> = {
  start: 'At start',
  cruise: 'While cruising',
  turnaround: 'At turnaround',
  finish: 'At finish',
  charger: 'At the charger',
  around: 'Over the run',
};

const INSTRUMENTS: Readonly<Record<string, string>> = {
  carDisplay: 'Car display',
  charger: 'Charger',
  positioning: 'Satellite positioning',
  gauge: 'Tyre gauge',
  placard: 'Door placard',
  stated: 'Stated by the tester',
  weatherSource: 'Weather source',
};

/** Readings in the order of the form. */
export function shownReadings(rows: DossierRevision['readings']): ShownReading[] {
  return QUANTITY_FIELDS.flatMap((field) => {
    const row = rows.find((reading) => reading.quantity === field.name);
    if (row === undefined || !isUnitCode(row.enteredUnit)) return [];
    const dimension = dimensionOf(row.enteredUnit);
    return [
      {
        quantity: field.name,
        label: field.label,
        section: sectionLabel(field.section),
        enteredText: row.enteredText,
        // A time typed with a colon is hours and minutes, whatever unit stood beside it.
        enteredUnit:
          dimension === 'duration' && row.enteredText.includes(':') ? 'h:mm' : unitSymbol(row.enteredUnit),
        value: row.value,
        low: row.low,
        high: row.high,
        unit: dimension === 'share' ? '%' : CANONICAL_UNITS[dimension],
        moment: MOMENTS[row.moment] ?? row.moment,
        instrument: INSTRUMENTS[row.instrument] ?? row.instrument,
      },
    ];
  });
}

export function shownPhotos(rows: DossierRevision['evidence']): ShownPhoto[] {
  return rows.map(({ evidence }) => ({
    ...evidence,
    label: photoLabel(evidence.kind),
    capturedAt: evidence.capturedAt?.toISOString() ?? null,
  }));
}
