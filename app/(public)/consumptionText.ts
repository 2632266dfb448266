import { formatInterval, formatNumber } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { decimalsOf, endsMeaning } from './rankings/rankingRows';

interface FittedConsumption {
  estimateWhPerKm: number;
  lowWhPerKm: number | null;
  highWhPerKm: number | null;
  intervalKind: string;
}

/** The ends without the unit, or why there are none. */
export function intervalText(fitted: FittedConsumption, unit: UnitCode): string {
  if (fitted.lowWhPerKm === null || fitted.highWhPerKm === null) return 'no interval: too few data';
  const text = formatInterval(fitted.lowWhPerKm, fitted.highWhPerKm, unit, {
    decimals: decimalsOf(unit),
    bare: true,
  });
  return endsMeaning(text, fitted.intervalKind);
}

/** A consumption in the reader's unit, without its symbol. */
export function consumptionNumber(whPerKm: number, unit: UnitCode): string {
  return formatNumber(fromCanonical(whPerKm, unit), decimalsOf(unit));
}

export function consumptionText(whPerKm: number, unit: UnitCode): string {
  return `${consumptionNumber(whPerKm, unit)} ${unitSymbol(unit)}`;
}
