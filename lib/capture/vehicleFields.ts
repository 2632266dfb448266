import { TYRE_UNITS } from '@/lib/run/fields/unitChoices';
import { type NumberField, typedNumbers } from '@/lib/run/numberField';
import type { RequiredText } from '@/lib/run/requiredText';
import { CAPACITY_U_WH, CAPACITY_WH } from './chargingBounds';

export const CAPACITY = {
  name: 'usableCapacityWh',
  label: 'Usable battery capacity',
  units: ['kWh'],
  isRequired: false,
  range: CAPACITY_WH,
} as const;

const DRAG_AREA = {
  name: 'dragAreaM2',
  label: 'Drag area (drag coefficient × frontal area)',
  units: ['m2'],
  isRequired: false,
  range: [0.1, 10],
} as const;

/** What the form of a model asks for, as its data sheet says. */
export const MODEL_NUMBERS: readonly NumberField[] = [
  {
    name: 'modelYear',
    label: 'Model year',
    hint: 'Four digits.',
    units: [],
    isRequired: true,
    range: [1990, 2100],
  },
  {
    name: 'kerbMassKg',
    label: 'Kerb mass',
    hint: 'As registered, driver included where the papers count one.',
    units: ['kg', 'lb'],
    isRequired: true,
    range: [200, 20_000],
  },
  { ...CAPACITY, hint: 'Usable, not gross. It ties the charge readings to the energy.' },
  {
    ...DRAG_AREA,
    hint: 'Only from a data sheet or measurement; left empty, a value for the body class is assumed.',
  },
];

/** Those of the data sheet, which can be corrected: with another year it is another model. */
export const DATA_SHEET_NUMBERS = MODEL_NUMBERS.filter(({ name }) => name !== 'modelYear');

/** A data sheet on file as its form takes it. */
export function dataSheetForm(sheet: {
  bodyClass: string;
  dragAreaSource: string | null;
  hasHeatPump: boolean;
}): Record<string, string> {
  return {
    bodyClass: sheet.bodyClass,
    dragAreaSource: sheet.dragAreaSource ?? '',
    hasHeatPump: sheet.hasHeatPump ? 'yes' : '',
    ...typedNumbers(sheet, DATA_SHEET_NUMBERS),
  };
}

/** What the form of a car asks for where it differs from its model. */
export const CAR_NUMBERS: readonly NumberField[] = [
  {
    name: 'placardFrontPa',
    label: 'Placard pressure, front',
    hint: 'Cold, from the door placard.',
    units: TYRE_UNITS,
    isRequired: false,
    range: [100_000, 700_000],
  },
  {
    name: 'placardRearPa',
    label: 'Placard pressure, rear',
    hint: 'Cold, from the door placard.',
    units: TYRE_UNITS,
    isRequired: false,
    range: [100_000, 700_000],
  },
  {
    name: 'registeredMassKg',
    label: 'Registered mass',
    hint: 'Left empty, the model’s kerb mass is taken.',
    units: ['kg', 'lb'],
    isRequired: false,
    range: [200, 20_000],
  },
  { ...CAPACITY, hint: 'Where this car’s differs from its model’s, for example with age.' },
  {
    name: 'usableCapacityUWh',
    label: 'Give or take, for that capacity',
    hint: 'Only where you measured it: a number such that the true capacity lies within twice it in 95 of 100 cases. Estimates use it; left empty, the capacity is taken for one that was not measured.',
    units: ['kWh'],
    isRequired: false,
    range: CAPACITY_U_WH,
  },
  { ...DRAG_AREA, hint: 'Only where you measured it on this car.' },
  {
    name: 'rollingCoefficient',
    label: 'Rolling resistance coefficient',
    hint: 'A pure number near 0.010; only where you measured it on this car.',
    units: [],
    isRequired: false,
    range: [0.003, 0.05],
  },
  {
    name: 'coastDownF0N',
    label: 'Coast-down coefficient f0',
    hint: 'In N, at the mass you drive with. All three of F = f0 + f1·V + f2·V², V in km/h, or none, and in place of the two values above. Corrected by you to the reference conditions of UN GTR No. 15: 20 °C, 100 kPa, no wind.',
    units: [],
    isRequired: false,
    range: [0, 5000],
  },
  {
    name: 'coastDownF1NPerKmh',
    label: 'Coast-down coefficient f1',
    hint: 'In N/(km/h), corrected alike; it may be below zero.',
    units: [],
    isRequired: false,
    allowNegative: true,
    range: [-20, 20],
  },
  {
    name: 'coastDownF2NPerKmh2',
    label: 'Coast-down coefficient f2',
    hint: 'In N/(km/h)², corrected alike.',
    units: [],
    isRequired: false,
    range: [0.005, 0.5],
  },
];

export const CALIBRATION_NUMBERS: readonly NumberField[] = [
  {
    name: 'factor',
    label: 'Factor',
    hint: 'True over shown: a display of 71 at a true 70 gives 0.986.',
    units: [],
    isRequired: true,
    range: [0.7, 1.3],
  },
  {
    name: 'standardUncertainty',
    label: 'Standard uncertainty of the factor',
    hint: 'One sigma, for example 0.003.',
    units: [],
    isRequired: true,
    range: [0.000_001, 0.1],
  },
  {
    name: 'odometerM',
    label: 'Odometer on that day',
    hint: 'Optional.',
    units: ['km', 'mi'],
    isRequired: false,
    range: [0, 3e9],
  },
];

export const MODEL_TEXTS: readonly RequiredText[] = [
  { name: 'makerName', label: 'The maker', why: 'It is part of the model’s name.' },
  { name: 'name', label: 'The model', why: 'It is part of its name.' },
  { name: 'bodyClass', label: 'The body class', why: 'It sets the drag area that is assumed.' },
];

export const CAR_NAME: RequiredText = {
  name: 'name',
  label: 'The name',
  why: 'You tell your cars apart by it.',
};

export const CAR_TEXTS: readonly RequiredText[] = [
  { name: 'modelId', label: 'The model', why: 'A car is of one model.' },
  CAR_NAME,
];

export const CALIBRATION_TEXTS: readonly RequiredText[] = [
  { name: 'measuredOn', label: 'The date', why: 'A calibration ages.' },
  { name: 'method', label: 'The method', why: 'A factor is only as good as what it was found against.' },
];
