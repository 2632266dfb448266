import type { PhotoMark } from '@/lib/run/photoMarks';
import { CANONICAL_UNITS, dimensionOf, isUnitCode, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { sectionLabel } from './sections';
import { photoLabel, QUANTITY_FIELDS } from './table';

/** A reading as a revision keeps it. */
export interface KeptReading {
  quantity: string;
  moment: string;
  instrument: string;
  enteredText: string;
  enteredUnit: string;
  value: number;
  low: number;
  high: number;
}

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
  /** Where it shows which reading, as its tester marked it. */
  marks: readonly PhotoMark[];
}

/** A photo as a revision names it. */
interface KeptPhoto {
  evidence: Omit<ShownPhoto, 'label' | 'capturedAt' | 'marks'> & { capturedAt: Date | null };
  marks?: readonly PhotoMark[];
}

const MOMENTS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    start: 'At start',
    cruise: 'While cruising',
    turnaround: 'At turnaround',
    finish: 'At finish',
    charger: 'At the charger',
    around: 'Over the run',
  }),
);

const INSTRUMENTS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    carDisplay: 'Car display',
    charger: 'Charger',
    positioning: 'Satellite positioning',
    gauge: 'Tyre gauge',
    placard: 'Door placard',
    stated: 'Stated by the tester',
    weatherSource: 'Weather source',
  }),
);

/** Readings in the order of the form. */
export function shownReadings(rows: readonly KeptReading[]): ShownReading[] {
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
        moment: MOMENTS.get(row.moment) ?? row.moment,
        instrument: INSTRUMENTS.get(row.instrument) ?? row.instrument,
      },
    ];
  });
}

export function shownPhotos(rows: readonly KeptPhoto[]): ShownPhoto[] {
  return rows.map(({ evidence, marks = [] }) => ({
    ...evidence,
    marks,
    label: photoLabel(evidence.kind),
    capturedAt: evidence.capturedAt?.toISOString() ?? null,
  }));
}
