import { dimensionOf, isUnitCode, UNITS, type UnitCode } from './unit';

/**
 * How people write units in their notes, beside the code and the printed symbol of each. "mb" and "mbar" are the
 * hectopascal by another name (SI Brochure, 9th edition, table 8: 1 mbar = 100 Pa).
 */
const SPELLINGS: Readonly<Partial<Record<UnitCode, readonly string[]>>> = {
  m: ['metre', 'metres', 'meter', 'meters'],
  km: ['kilometre', 'kilometres', 'kilometer', 'kilometers', 'kms'],
  mi: ['mile', 'miles', 'mls'],
  ft: ['foot', 'feet', "'"],
  Wh: ['watt hours', 'watthours'],
  kWh: ['kw h', 'kilowatt hours', 'kilowatthours', 'kwhs'],
  'Wh/km': ['watt hours/km'],
  'Wh/mi': ['wh/mile', 'wh per mile', 'wh per mi'],
  'kWh/100km': ['kwh per 100 km', 'kwh/100'],
  'kWh/100mi': ['kwh per 100 miles', 'kwh/100 miles', 'kwh per 100 mi'],
  'km/kWh': ['km per kwh', 'kilometres/kwh', 'kilometers/kwh'],
  'mi/kWh': ['miles/kwh', 'miles per kwh', 'mi per kwh'],
  'm/s': ['mps', 'm per s'],
  'km/h': ['kmh', 'kph', 'km/hr', 'kmph'],
  mph: ['mi/h', 'miles/h', 'miles per hour'],
  kn: ['kt', 'kts', 'knot', 'knots'],
  degC: ['c', 'deg c', 'celsius', 'centigrade'],
  degF: ['f', 'deg f', 'fahrenheit'],
  hPa: ['mb', 'mbar', 'millibar', 'millibars'],
  inHg: ['in hg', 'inches hg', 'inches of mercury', '"hg', 'in. hg'],
  psi: ['psig', 'lb/in2'],
  s: ['sec', 'secs', 'second', 'seconds'],
  min: ['mins', 'minute', 'minutes'],
  h: ['hr', 'hrs', 'hour', 'hours'],
  kg: ['kgs', 'kilogram', 'kilograms', 'kilo', 'kilos'],
  lb: ['lbs', 'pound', 'pounds'],
  W: ['watt', 'watts'],
  kW: ['kilowatt', 'kilowatts'],
  deg: ['degree', 'degrees', 'deg true', 'deg.'],
  '%': ['percent', 'per cent', 'pct'],
};

const squeeze = (text: string): string => text.toLowerCase().replace(/[\s\u00a0_.]/g, '');

const BY_SPELLING: ReadonlyMap<string, readonly UnitCode[]> = bySpelling();

function bySpelling(): Map<string, UnitCode[]> {
  const found = new Map<string, UnitCode[]>();
  for (const { code, symbol } of Object.values(UNITS)) {
    if (!isUnitCode(code)) continue;
    for (const spelling of new Set([code, symbol, ...(SPELLINGS[code] ?? [])].map(squeeze)))
      found.set(spelling, [...(found.get(spelling) ?? []), code]);
  }
  return found;
}

/** The one of these units that a text spells; none where it spells none of them, or two. */
export function unitSpelled(text: string, among: readonly UnitCode[]): UnitCode | undefined {
  const meant = (BY_SPELLING.get(squeeze(text)) ?? []).filter((unit) => among.includes(unit));
  return meant.length === 1 ? meant[0] : undefined;
}

/** The units of one dimension, which a reading can come in whatever its own form offers first. */
export function unitsLike(unit: UnitCode): UnitCode[] {
  return Object.values(UNITS).flatMap(({ code }) =>
    isUnitCode(code) && dimensionOf(code) === dimensionOf(unit) ? [code] : [],
  );
}
