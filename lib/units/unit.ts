/**
 * Every unit a reading may come in, with its exact relation to the canonical unit of its dimension.
 *
 * Factors are exact by definition (NIST SP 811:2008, Appendix B; SI Brochure 9th edition; the international yard and
 * pound agreement of 1959), so a factor is kept as numerator and denominator and never as a rounded decimal.
 */
export type Dimension =
  | 'length'
  | 'energy'
  | 'consumption'
  | 'speed'
  | 'temperature'
  | 'pressure'
  | 'duration'
  | 'mass'
  | 'power'
  | 'angle'
  | 'share'
  | 'area';

export type UnitCode =
  | 'm'
  | 'km'
  | 'mi'
  | 'ft'
  | 'Wh'
  | 'kWh'
  | 'Wh/km'
  | 'Wh/mi'
  | 'kWh/100km'
  | 'kWh/100mi'
  | 'km/kWh'
  | 'mi/kWh'
  | 'm/s'
  | 'km/h'
  | 'mph'
  | 'kn'
  | 'degC'
  | 'degF'
  | 'Pa'
  | 'hPa'
  | 'kPa'
  | 'bar'
  | 'psi'
  | 'inHg'
  | 's'
  | 'min'
  | 'h'
  | 'kg'
  | 'lb'
  | 'W'
  | 'kW'
  | 'deg'
  | '%'
  | 'm2';

/**
 * How a shown number x becomes a canonical one:
 * linear: x·n/d · affine: (x − offset)·n/d · reciprocal: (n/d)/x.
 */
type Relation =
  | { readonly kind: 'linear'; readonly numerator: number; readonly denominator: number }
  | {
      readonly kind: 'affine';
      readonly offset: number;
      readonly numerator: number;
      readonly denominator: number;
    }
  | { readonly kind: 'reciprocal'; readonly numerator: number; readonly denominator: number };

export interface UnitDefinition {
  readonly code: UnitCode;
  /** As printed after a number; a space inside it does not break. */
  readonly symbol: string;
  readonly dimension: Dimension;
  readonly relation: Relation;
  readonly source: string;
}

/** A value outside a unit's domain reached a conversion: the caller should have refused it at the edge. */
export class UnitDomainError extends RangeError {
  override name = 'UnitDomainError';
}

export const METRES_PER_MILE = 1609.344;

const SI = 'SI Brochure, 9th edition: exact by definition';
const YARD_POUND = 'NIST SP 811 B.8, international yard and pound (1959): exact';

const linear = (numerator: number, denominator = 1): Relation => ({ kind: 'linear', numerator, denominator });
const reciprocal = (numerator: number, denominator = 1): Relation => ({
  kind: 'reciprocal',
  numerator,
  denominator,
});

function define(
  code: UnitCode,
  symbol: string,
  dimension: Dimension,
  relation: Relation,
  source: string,
): UnitDefinition {
  return { code, symbol, dimension, relation, source };
}

export const UNITS: Readonly<Record<UnitCode, UnitDefinition>> = {
  m: define('m', 'm', 'length', linear(1), SI),
  km: define('km', 'km', 'length', linear(1000), SI),
  mi: define('mi', 'mi', 'length', linear(METRES_PER_MILE), YARD_POUND),
  ft: define('ft', 'ft', 'length', linear(0.3048), YARD_POUND),
  Wh: define('Wh', 'Wh', 'energy', linear(1), SI),
  kWh: define('kWh', 'kWh', 'energy', linear(1000), SI),
  'Wh/km': define('Wh/km', 'Wh/km', 'consumption', linear(1), SI),
  'Wh/mi': define('Wh/mi', 'Wh/mi', 'consumption', linear(1000, METRES_PER_MILE), YARD_POUND),
  'kWh/100km': define('kWh/100km', 'kWh/100\u00A0km', 'consumption', linear(10), SI),
  'kWh/100mi': define(
    'kWh/100mi',
    'kWh/100\u00A0mi',
    'consumption',
    linear(10_000, METRES_PER_MILE),
    YARD_POUND,
  ),
  'km/kWh': define('km/kWh', 'km/kWh', 'consumption', reciprocal(1000), SI),
  'mi/kWh': define('mi/kWh', 'mi/kWh', 'consumption', reciprocal(1_000_000, METRES_PER_MILE), YARD_POUND),
  'm/s': define('m/s', 'm/s', 'speed', linear(1), SI),
  'km/h': define('km/h', 'km/h', 'speed', linear(1, 3.6), SI),
  mph: define('mph', 'mph', 'speed', linear(0.44704), YARD_POUND),
  kn: define(
    'kn',
    'kn',
    'speed',
    linear(1852, 3600),
    'NIST SP 811 B.8, international nautical mile 1852 m: exact',
  ),
  degC: define('degC', '°C', 'temperature', linear(1), SI),
  degF: define(
    'degF',
    '°F',
    'temperature',
    { kind: 'affine', offset: 32, numerator: 5, denominator: 9 },
    'NIST SP 811 B.8: t/°C = (t/°F − 32)/1.8, exact',
  ),
  Pa: define('Pa', 'Pa', 'pressure', linear(1), SI),
  hPa: define('hPa', 'hPa', 'pressure', linear(100), SI),
  kPa: define('kPa', 'kPa', 'pressure', linear(1000), SI),
  bar: define('bar', 'bar', 'pressure', linear(100_000), 'NIST SP 811 B.8: 1 bar = 100 kPa, exact'),
  // lbf/in²: 0.45359237 kg × 9.80665 m/s² over (0.0254 m)², kept as the exact quotient
  psi: define('psi', 'psi', 'pressure', linear(0.45359237 * 9.80665, 0.0254 * 0.0254), YARD_POUND),
  // conventional mercury, 13 595.1 kg/m³ at 9.80665 m/s²: 3386.388640341 Pa
  inHg: define(
    'inHg',
    'inHg',
    'pressure',
    linear(3386.388640341),
    'NIST SP 811 B.8, conventional inch of mercury',
  ),
  s: define('s', 's', 'duration', linear(1), SI),
  min: define('min', 'min', 'duration', linear(60), SI),
  h: define('h', 'h', 'duration', linear(3600), SI),
  kg: define('kg', 'kg', 'mass', linear(1), SI),
  lb: define('lb', 'lb', 'mass', linear(0.45359237), YARD_POUND),
  W: define('W', 'W', 'power', linear(1), SI),
  kW: define('kW', 'kW', 'power', linear(1000), SI),
  deg: define('deg', '°', 'angle', linear(1), SI),
  '%': define('%', '%', 'share', linear(1, 100), SI),
  m2: define('m2', 'm²', 'area', linear(1), SI),
};

export const CANONICAL_UNITS: Readonly<Record<Exclude<Dimension, 'share'>, UnitCode>> = {
  length: 'm',
  energy: 'Wh',
  consumption: 'Wh/km',
  speed: 'm/s',
  temperature: 'degC',
  pressure: 'Pa',
  duration: 's',
  mass: 'kg',
  power: 'W',
  angle: 'deg',
  area: 'm2',
};

export function isUnitCode(text: string): text is UnitCode {
  return Object.hasOwn(UNITS, text);
}

export function dimensionOf(unit: UnitCode): Dimension {
  return UNITS[unit].dimension;
}

export function unitsOf(dimension: Dimension): UnitCode[] {
  return Object.values(UNITS)
    .filter((unit) => unit.dimension === dimension)
    .map((unit) => unit.code);
}

export function isReciprocal(unit: UnitCode): boolean {
  return UNITS[unit].relation.kind === 'reciprocal';
}

/**
 * The canonical value (m, Wh, Wh/km, m/s, °C, Pa, s, kg, W, degrees, share 0..1, m²) of a number shown in `unit`.
 * A distance per energy is the reciprocal of a consumption and must be above zero.
 */
export function toCanonical(value: number, unit: UnitCode): number {
  const { relation } = UNITS[unit];
  switch (relation.kind) {
    case 'linear':
      return (value * relation.numerator) / relation.denominator;
    case 'affine':
      return ((value - relation.offset) * relation.numerator) / relation.denominator;
    case 'reciprocal':
      return invert(value, relation.numerator / relation.denominator, unit);
  }
}

/** The number to show in `unit` for a canonical value; the inverse of {@link toCanonical}. */
export function fromCanonical(canonical: number, unit: UnitCode): number {
  const { relation } = UNITS[unit];
  switch (relation.kind) {
    case 'linear':
      return (canonical * relation.denominator) / relation.numerator;
    case 'affine':
      return (canonical * relation.denominator) / relation.numerator + relation.offset;
    case 'reciprocal':
      return invert(canonical, relation.numerator / relation.denominator, unit);
  }
}

/**
 * A small spread (standard uncertainty, half-width) about a canonical value, in `unit`: first order, |dx/dy|·spread.
 * An offset unit shifts values but not spreads; a reciprocal one stretches them by the slope at the value.
 */
export function spreadFromCanonical(spread: number, unit: UnitCode, atCanonical: number): number {
  const { relation } = UNITS[unit];
  if (relation.kind !== 'reciprocal') return (Math.abs(spread) * relation.denominator) / relation.numerator;
  return (Math.abs(spread) * fromCanonical(atCanonical, unit)) / atCanonical;
}

/** The canonical spread of a small spread about a number shown in `unit`; first order. */
export function spreadToCanonical(spread: number, unit: UnitCode, atShown: number): number {
  const { relation } = UNITS[unit];
  if (relation.kind !== 'reciprocal') return (Math.abs(spread) * relation.numerator) / relation.denominator;
  return (Math.abs(spread) * toCanonical(atShown, unit)) / atShown;
}

function invert(value: number, product: number, unit: UnitCode): number {
  if (!(value > 0))
    throw new UnitDomainError(`${unit} converts by its reciprocal and needs a value above zero`);
  return product / value;
}

/** As printed after a number. */
export function unitSymbol(unit: UnitCode): string {
  return UNITS[unit].symbol;
}
