import type { FactorKey } from '@/lib/run/factors';
import type { ChoiceValue } from '@/lib/run/fields/table';
import type { DemoDisplay, DemoLevel, DemoModel, DemoSetup, TrueRoadLoad } from './types';

/** Driver, charging cable and what lies in the car on every run. */
export const CARRIED_KG = 105;

interface Change {
  key: string;
  factor: FactorKey;
  level: Omit<DemoLevel, 'factor'>;
  /** Multiplies the baseline's value; 1 where left out. */
  dragArea?: number;
  rolling?: number;
  efficiency?: number;
  addedLoadKg?: number;
  climate?: ChoiceValue<'climate'>;
  pressure?: number;
}

interface ModelPlan extends Omit<DemoModel, 'levels' | 'setups' | 'display'> {
  display: DemoDisplay;
  baseline: Omit<TrueRoadLoad, 'massKg'>;
  baselineLevels: readonly DemoLevel[];
  placardPa: { front: number; rear: number };
  changes: readonly Change[];
}

const METRIC: DemoDisplay = {
  distance: { unit: 'km', decimals: 1 },
  energy: { unit: 'kWh', decimals: 1 },
  consumption: { unit: 'kWh/100km', decimals: 1 },
  speed: { unit: 'km/h', decimals: 0 },
  showsAuxiliaryPower: false,
};

const MILES: DemoDisplay = {
  distance: { unit: 'mi', decimals: 1 },
  energy: { unit: 'kWh', decimals: 1 },
  consumption: { unit: 'mi/kWh', decimals: 2 },
  speed: { unit: 'mph', decimals: 0 },
  showsAuxiliaryPower: false,
};

const PLANS: readonly ModelPlan[] = [
  {
    key: 'turnstone',
    makerName: 'Skerran',
    name: 'Turnstone',
    modelYear: 2024,
    variant: 'Double cab, two motors',
    bodyClass: 'pickup',
    kerbMassKg: 2655,
    usableCapacityWh: 118_000,
    hasHeatPump: true,
    display: MILES,
    baseline: { dragAreaM2: 1.06, rollingCoefficient: 0.0094, drivetrainEfficiency: 0.9 },
    placardPa: { front: 280_000, rear: 300_000 },
    baselineLevels: [
      { factor: 'driveMode', key: 'standard', label: 'Standard' },
      { factor: 'rideHeight', key: 'normal', label: 'Normal' },
      { factor: 'openingsCovers', key: 'bed-cover-closed', label: 'Bed cover closed' },
      { factor: 'wheelTyre', key: 'road-20', label: '20-inch road', tyreKind: 'road' },
    ],
    changes: [
      { key: 'eco', factor: 'driveMode', level: { key: 'eco', label: 'Eco' }, efficiency: 1.018 },
      { key: 'low', factor: 'rideHeight', level: { key: 'low', label: 'Low' }, dragArea: 0.955 },
      {
        key: 'open-bed',
        factor: 'openingsCovers',
        level: { key: 'bed-open', label: 'Bed cover off' },
        dragArea: 1.05,
      },
      {
        key: 'all-terrain',
        factor: 'wheelTyre',
        level: { key: 'all-terrain-18', label: '18-inch all-terrain', tyreKind: 'allTerrain' },
        rolling: 1.26,
        dragArea: 1.03,
      },
    ],
  },
  {
    key: 'dotterel',
    makerName: 'Skerran',
    name: 'Dotterel',
    modelYear: 2025,
    variant: 'Long, high roof',
    bodyClass: 'van',
    kerbMassKg: 2290,
    usableCapacityWh: 77_000,
    hasHeatPump: false,
    display: { ...METRIC, consumption: { unit: 'km/kWh', decimals: 2 } },
    baseline: { dragAreaM2: 1.04, rollingCoefficient: 0.0091, drivetrainEfficiency: 0.895 },
    placardPa: { front: 320_000, rear: 340_000 },
    baselineLevels: [
      { factor: 'driveMode', key: 'normal', label: 'Normal' },
      { factor: 'roofHitch', key: 'bare', label: 'Bare roof' },
      { factor: 'load', key: 'driver', label: 'Driver only' },
      { factor: 'tyrePressure', key: 'placard-light', label: 'Placard, light load' },
    ],
    changes: [
      { key: 'range', factor: 'driveMode', level: { key: 'range', label: 'Range' }, efficiency: 1.012 },
      {
        key: 'roof-rack',
        factor: 'roofHitch',
        level: { key: 'roof-rack', label: 'Ladder rack, empty' },
        dragArea: 1.075,
      },
      {
        key: 'half-load',
        factor: 'load',
        level: { key: 'cargo-400', label: '400 kg cargo' },
        addedLoadKg: 400,
      },
      {
        key: 'full-pressure',
        factor: 'tyrePressure',
        level: { key: 'placard-full', label: 'Placard, full load' },
        rolling: 0.955,
        pressure: 1.12,
      },
    ],
  },
  {
    key: 'godwit',
    makerName: 'Tolvane',
    name: 'Godwit',
    modelYear: 2024,
    variant: 'Long range',
    bodyClass: 'saloon',
    kerbMassKg: 1985,
    usableCapacityWh: 78_000,
    dragAreaM2: 0.51,
    dragAreaSource: 'Maker’s data sheet',
    hasHeatPump: true,
    display: { ...METRIC, showsAuxiliaryPower: true },
    baseline: { dragAreaM2: 0.525, rollingCoefficient: 0.0087, drivetrainEfficiency: 0.905 },
    placardPa: { front: 290_000, rear: 290_000 },
    baselineLevels: [
      { factor: 'driveMode', key: 'comfort', label: 'Comfort' },
      { factor: 'rideHeight', key: 'normal', label: 'Normal' },
      { factor: 'wheelTyre', key: 'aero-18', label: '18-inch with covers', tyreKind: 'road' },
      { factor: 'cabinClimate', key: 'mild', label: 'On, 21 °C' },
    ],
    changes: [
      { key: 'eco', factor: 'driveMode', level: { key: 'eco', label: 'Eco' }, efficiency: 1.01 },
      { key: 'low', factor: 'rideHeight', level: { key: 'low', label: 'Low' }, dragArea: 0.97 },
      {
        key: 'wheels-20',
        factor: 'wheelTyre',
        level: { key: 'sport-20', label: '20-inch', tyreKind: 'road' },
        rolling: 1.07,
        dragArea: 1.03,
      },
      {
        key: 'no-covers',
        factor: 'wheelTyre',
        level: { key: 'bare-18', label: '18-inch without covers', tyreKind: 'road' },
        dragArea: 1.015,
      },
      {
        key: 'climate-off',
        factor: 'cabinClimate',
        level: { key: 'off', label: 'Off' },
        climate: 'off',
      },
    ],
  },
  {
    key: 'pipit',
    makerName: 'Tolvane',
    name: 'Pipit',
    modelYear: 2025,
    variant: 'Standard',
    bodyClass: 'hatch',
    kerbMassKg: 1560,
    usableCapacityWh: 54_000,
    hasHeatPump: false,
    display: { ...MILES, consumption: { unit: 'mi/kWh', decimals: 1 } },
    baseline: { dragAreaM2: 0.6, rollingCoefficient: 0.0089, drivetrainEfficiency: 0.9 },
    placardPa: { front: 240_000, rear: 240_000 },
    baselineLevels: [
      { factor: 'driveMode', key: 'normal', label: 'Normal' },
      { factor: 'roofHitch', key: 'bare', label: 'Bare roof' },
      { factor: 'wheelTyre', key: 'summer-17', label: '17-inch summer', tyreKind: 'road' },
      { factor: 'tyrePressure', key: 'placard', label: 'Placard, two people' },
    ],
    changes: [
      { key: 'eco', factor: 'driveMode', level: { key: 'eco', label: 'Eco' } },
      {
        key: 'roof-box',
        factor: 'roofHitch',
        level: { key: 'roof-box', label: 'Roof box 400 L' },
        dragArea: 1.21,
        addedLoadKg: 22,
      },
      {
        key: 'all-season',
        factor: 'wheelTyre',
        level: { key: 'all-season-17', label: '17-inch all-season', tyreKind: 'road' },
        rolling: 1.11,
      },
      {
        key: 'full-pressure',
        factor: 'tyrePressure',
        level: { key: 'placard-full', label: 'Placard, full load' },
        rolling: 0.95,
        pressure: 1.13,
      },
    ],
  },
  {
    key: 'whimbrel',
    makerName: 'Skerran',
    name: 'Whimbrel',
    modelYear: 2023,
    variant: 'Small bus, nine seats',
    bodyClass: 'van',
    kerbMassKg: 3080,
    usableCapacityWh: 96_000,
    dragAreaM2: 1.55,
    dragAreaSource: 'Coast-down by the owner',
    hasHeatPump: true,
    display: { ...METRIC, distance: { unit: 'km', decimals: 0 } },
    baseline: { dragAreaM2: 1.58, rollingCoefficient: 0.0096, drivetrainEfficiency: 0.895 },
    placardPa: { front: 390_000, rear: 420_000 },
    baselineLevels: [
      { factor: 'driveMode', key: 'normal', label: 'Normal' },
      { factor: 'load', key: 'driver', label: 'Driver only' },
      { factor: 'roofHitch', key: 'bare', label: 'Nothing carried outside' },
    ],
    changes: [
      { key: 'eco', factor: 'driveMode', level: { key: 'eco', label: 'Eco' }, efficiency: 1.008 },
      {
        key: 'eight-aboard',
        factor: 'load',
        level: { key: 'ballast-560', label: '560 kg ballast' },
        addedLoadKg: 560,
      },
      {
        key: 'bike-rack',
        factor: 'roofHitch',
        level: { key: 'bikes', label: 'Two bicycles on the rear' },
        dragArea: 1.065,
        addedLoadKg: 45,
      },
    ],
  },
];

function buildModel(plan: ModelPlan): DemoModel {
  const { baseline, baselineLevels, placardPa, changes, ...facts } = plan;
  const baselineSetup: DemoSetup = {
    key: `${plan.key}/baseline`,
    levelKeys: baselineLevels.map((level) => levelId(level)),
    changes: undefined,
    climate: 'mild',
    loadKg: CARRIED_KG,
    placardPa,
    truth: { ...baseline, massKg: plan.kerbMassKg + CARRIED_KG },
  };
  const setups = changes.map((change): DemoSetup => {
    const loadKg = CARRIED_KG + (change.addedLoadKg ?? 0);
    const pressure = change.pressure ?? 1;
    return {
      key: `${plan.key}/${change.key}`,
      levelKeys: [
        ...baselineLevels.filter((level) => level.factor !== change.factor).map((level) => levelId(level)),
        levelId({ ...change.level, factor: change.factor }),
      ],
      changes: change.factor,
      climate: change.climate ?? 'mild',
      loadKg,
      placardPa: {
        front: Math.round((placardPa.front * pressure) / 10_000) * 10_000,
        rear: Math.round((placardPa.rear * pressure) / 10_000) * 10_000,
      },
      truth: {
        dragAreaM2: baseline.dragAreaM2 * (change.dragArea ?? 1),
        rollingCoefficient: baseline.rollingCoefficient * (change.rolling ?? 1),
        drivetrainEfficiency: baseline.drivetrainEfficiency * (change.efficiency ?? 1),
        massKg: plan.kerbMassKg + loadKg,
      },
    };
  });
  return {
    ...facts,
    levels: [...baselineLevels, ...changes.map((change) => ({ ...change.level, factor: change.factor }))],
    setups: [baselineSetup, ...setups],
  };
}

/** Names a level within its model. */
export function levelId(level: Pick<DemoLevel, 'factor' | 'key'>): string {
  return `${level.factor}=${level.key}`;
}

export const MODELS: readonly DemoModel[] = PLANS.map(buildModel);
