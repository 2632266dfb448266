import type { RankingView } from '@/lib/registry/rankings/rankings';
import { TEMPERATURE_BANDS, type TemperatureBand } from '@/lib/run/temperatureBand';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

/** "Cold, 0 to 15 °C" */
export function temperatureWords({ name, fromC, belowC }: TemperatureBand, display: Display): string {
  const shown = (celsius: number) => showQuantity(celsius, 'temperature', display, { decimals: 0 });
  if (fromC === null) return `${name}, below ${shown(belowC)}`;
  if (belowC === null) return `${name}, from ${shown(fromC)}`;
  return `${name}, ${showQuantity(fromC, 'temperature', display, { decimals: 0, bare: true })} to ${shown(belowC)}`;
}

export function temperatureChoices(display: Display): { value: string; label: string }[] {
  return TEMPERATURE_BANDS.map((band) => ({ value: band.key, label: temperatureWords(band, display) }));
}

/** What is shown in place of estimates, and of which runs; empty where it is estimates. */
export function plainWords({ plain }: Pick<RankingView, 'plain'>, display: Display): string[] {
  if (plain === null) return [];
  return [
    'plain means',
    ...(plain.temperature ? [temperatureWords(plain.temperature, display)] : []),
    ...(plain.protocol === undefined ? [] : [`protocol ${plain.protocol}`]),
  ];
}
