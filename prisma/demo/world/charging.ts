/** How a model charges, as a data sheet or a tester says: charge in per cent and power in kW. */
export interface DemoCharging {
  points?: readonly (readonly [chargePercent: number, powerKw: number])[];
  peakKw?: number;
  source: string;
}

/** By model. The van has none, so that the world shows an assumed curve as well; of the bus a peak alone is known. */
export const CHARGING: ReadonlyMap<string, DemoCharging> = new Map<string, DemoCharging>([
  [
    'turnstone',
    {
      points: [
        [0, 120],
        [8, 188],
        [32, 180],
        [50, 146],
        [70, 98],
        [80, 72],
        [90, 44],
        [100, 12],
      ],
      peakKw: 190,
      source: 'Maker’s data sheet, charging at 400 V (invented)',
    },
  ],
  [
    'godwit',
    {
      points: [
        [5, 168],
        [20, 171],
        [40, 128],
        [60, 92],
        [80, 58],
        [95, 24],
      ],
      source: 'One charge from 5 to 95 % watched at the ferry quay, display noted every 5 % (invented)',
    },
  ],
  [
    'pipit',
    {
      points: [
        [10, 78],
        [55, 82],
        [80, 41],
      ],
      peakKw: 85,
      source: 'Maker’s data sheet, page on charging (invented)',
    },
  ],
  ['whimbrel', { peakKw: 125, source: 'Operator’s handbook (invented)' }],
]);
