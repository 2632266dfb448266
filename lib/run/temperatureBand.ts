/**
 * Bands of air temperature in which runs may be looked at by themselves, °C: the lower end belongs to a band, the upper
 * to the next. Common practice, no source: freezing comes with winter tyres and heating, 15 to 25 °C is about the
 * reference conditions, above them air conditioning begins.
 */
export const TEMPERATURE_BANDS = [
  { key: 'freezing', name: 'Freezing', fromC: null, belowC: 0 },
  { key: 'cold', name: 'Cold', fromC: 0, belowC: 15 },
  { key: 'mild', name: 'Mild', fromC: 15, belowC: 25 },
  { key: 'warm', name: 'Warm', fromC: 25, belowC: null },
] as const;

export type TemperatureBand = (typeof TEMPERATURE_BANDS)[number];

export function temperatureBandOf(key: string | undefined): TemperatureBand | undefined {
  return TEMPERATURE_BANDS.find((band) => band.key === key);
}
