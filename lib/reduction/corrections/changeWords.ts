import { LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { CAR_NUMBERS, MODEL_NUMBERS } from '@/lib/capture/vehicleFields';
import { bodyLabel } from '@/lib/run/bodyClass';
import { entryChanges } from '@/lib/run/fields/entryChanges';
import { dayWords } from '@/lib/run/localDate';
import type { NumberField } from '@/lib/run/numberField';
import type { Display } from '@/lib/units/display';
import { showPlain, showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import type { CalibrationChange, Change, ColumnValue, KeptCalibration, LoopDirections } from './change';

/** One value that a correction changes, in words. */
export interface ChangeRow {
  key: string;
  label: string;
  before: string;
  after: string;
}

const TEXT_LABELS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    ownValuesSource: 'Source of the car’s own values',
    dragAreaSource: 'Source of the drag area',
    bodyClass: 'Body class',
    hasHeatPump: 'Heat pump',
    region: 'Region',
    description: 'Description',
    turnaround: 'Turnaround',
    lengthSource: 'How the length was found',
  }),
);

/** What a correction changes, as a table says it. */
export function changeRows(change: Change, display: Display): ChangeRow[] {
  switch (change.kind) {
    case 'car':
      return columnRows(change.columns, CAR_NUMBERS, display);
    case 'model':
      return columnRows(change.columns, MODEL_NUMBERS, display);
    case 'loop':
      return [
        ...columnRows(change.columns, LOOP_NUMBERS, display),
        ...(change.directions === null ? [] : directionRows(change.directions, display)),
      ];
    case 'calibrations':
      return change.changes.map((one, index) => calibrationRow(one, index, display));
    case 'run':
      return entryChanges(change.before, change.after);
  }
}

function columnRows(
  columns: Readonly<Record<string, { before: ColumnValue; after: ColumnValue }>>,
  fields: readonly NumberField[],
  display: Display,
): ChangeRow[] {
  return Object.entries(columns).map(([name, { before, after }]) => {
    const field = fields.find((each) => each.name === name);
    const words = (value: ColumnValue) => valueWords(name, value, field, display);
    return {
      key: name,
      label: field?.label ?? TEXT_LABELS.get(name) ?? name,
      before: words(before),
      after: words(after),
    };
  });
}

function valueWords(
  name: string,
  value: ColumnValue,
  field: NumberField | undefined,
  display: Display,
): string {
  if (value === null || value === '') return 'not stated';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return name === 'bodyClass' ? bodyLabel(value) : value;
  const unit = field?.units[0];
  // in the unit of its form and to all of its digits: a difference must not be rounded away
  return unit === undefined
    ? showPlain(value, display)
    : `${showPlain(fromCanonical(value, unit), display)} ${unitSymbol(unit)}`;
}

function directionRows(
  { before, after }: { before: LoopDirections; after: LoopDirections },
  display: Display,
): ChangeRow[] {
  const words = ({ bearings, legs }: LoopDirections) =>
    legs.length > 0
      ? legs
          .map(
            (leg) =>
              `${leg.direction}: ${showQuantity(leg.lengthM, 'distance', display)}, climb ${showPlain(leg.netClimbM, display)} m, ${bearingWords(leg.bearings, display)}`,
          )
          .join('; ')
      : bearingWords(bearings, display);
  return [{ key: 'directions', label: 'Legs and directions', before: words(before), after: words(after) }];
}

function bearingWords(bearings: LoopDirections['bearings'], display: Display): string {
  return bearings
    .map(
      ({ bearingDeg, share }) =>
        `${showPlain(Math.round(share * 1000) / 10, display)} % at ${showPlain(bearingDeg, display)}°`,
    )
    .join(', ');
}

function calibrationRow({ before, after }: CalibrationChange, index: number, display: Display): ChangeRow {
  const { instrument } = after ?? before ?? { instrument: '' };
  return {
    key: `calibration ${index}`,
    label: `Calibration of the ${instrument}`,
    before: before === null ? 'none' : calibrationWords(before, display),
    after: after === null ? 'none' : calibrationWords(after, display),
  };
}

function calibrationWords(calibration: KeptCalibration, display: Display): string {
  const { factor, standardUncertainty, measuredOn, invalidatedOn, method } = calibration;
  const end = invalidatedOn === null ? '' : `, ended on ${dayWords(invalidatedOn)}`;
  return `${showPlain(factor, display)} ± ${showPlain(standardUncertainty, display)} of ${dayWords(measuredOn)}${end} (${method})`;
}
