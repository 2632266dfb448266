import { type Display, type Kind, unitFor } from './display';
import { formatNumber, THIN_SPACE } from './format';
import { markOf, withReadersMark } from './show';
import { fromCanonical, toCanonical, type UnitCode, unitSymbol } from './unit';

/**
 * A finished sentence whose numbers are still data, so that each reader gets them in their own units: what a rule
 * found, why a run is out of reach. Plain data: it is stored as it is.
 */
export type Said = readonly (string | SaidNumber)[];

export interface SaidNumber {
  /** In the canonical unit; a bare number where there is no unit. */
  readonly value: number;
  /** The other end, where a range is said. */
  readonly to?: number;
  /** The unit that it was judged in, by whose kind the reader's own unit is found. */
  readonly unit: UnitCode | '';
  /** Its place in that unit. */
  readonly decimals: number;
  /** Limits, canonical, that it misses: in no unit does it read as equal to them. */
  readonly apart?: readonly number[];
  /** What stands for the unit's symbol: “2 points” of a percent scale. */
  readonly symbol?: string;
}

/** What a judged unit measures where sentences are made: a speed in m/s is the wind's, one in km/h the car's. */
const KINDS: ReadonlyMap<UnitCode | '', Kind> = new Map<UnitCode, Kind>([
  ['km', 'distance'],
  ['m', 'height'],
  ['km/h', 'speed'],
  ['m/s', 'wind'],
  ['degC', 'temperature'],
  ['bar', 'tyrePressure'],
  ['hPa', 'airPressure'],
  ['kg', 'mass'],
  ['Wh/km', 'consumption'],
  ['kWh/100km', 'consumption'],
]);

/** A sentence written out, its numbers kept as data: said`The wind was ${number}.` */
export function said(words: TemplateStringsArray, ...parts: (string | number | SaidNumber | Said)[]): Said {
  return merged(words.flatMap((text, index) => [text, ...listed(parts[index])]));
}

/** Whole sentences, one space between, empty ones left out. */
export function saidTogether(...sentences: readonly (string | Said)[]): Said {
  const full = sentences.map(listed).filter((parts) => parts.some((part) => part !== ''));
  return merged(full.flatMap((parts, index) => (index === 0 ? parts : [' ', ...parts])));
}

function listed(part: string | number | SaidNumber | Said | undefined): Said {
  if (part === undefined) return [];
  if (typeof part === 'number') return [String(part)];
  return typeof part === 'object' && !('unit' in part) ? part : [part];
}

function merged(parts: Said): Said {
  const kept: (string | SaidNumber)[] = [];
  for (const part of parts) {
    const before = kept.at(-1);
    if (typeof part === 'string' && typeof before === 'string') kept[kept.length - 1] = before + part;
    else if (part !== '') kept.push(part);
  }
  return kept;
}

/** What was found, to a reader: with their units where its numbers are data, else as it was judged. */
export function sayFound(found: { sentence: string; said?: Said | undefined }, display: Display): string {
  return found.said === undefined ? withReadersMark(found.sentence, display) : say(found.said, display);
}

/** In the units in which it was judged, with a decimal point. */
export function asJudged(sentence: Said): string {
  return sentence
    .map((part) => (typeof part === 'string' ? part : written(part, part.unit, part.decimals, '.')))
    .join('');
}

/** The sentence in the reader's units. Where a unit changes, all of its numbers in the sentence share one place. */
export function say(sentence: Said, display: Display): string {
  const mark = markOf(display);
  const placeOf = placesIn(sentence, display);
  return sentence
    .map((part) =>
      typeof part === 'string'
        ? withReadersMark(part, display)
        : written(part, readersUnit(part, display), placeOf(part), mark),
    )
    .join('');
}

function placesIn(sentence: Said, display: Display): (part: SaidNumber) => number {
  const places = new Map<UnitCode, number>();
  for (const part of sentence) {
    if (typeof part === 'string') continue;
    const unit = readersUnit(part, display);
    if (unit === '' || unit === part.unit) continue;
    places.set(unit, Math.max(places.get(unit) ?? 0, placeIn(unit, part)));
  }
  return (part) => {
    const unit = readersUnit(part, display);
    return unit === '' || unit === part.unit ? part.decimals : (places.get(unit) ?? part.decimals);
  };
}

/**
 * The place at which a sentence says a number that also stands beside it, or the range that this is the middle of, so
 * that both have the same digits; undefined where it does not say it.
 */
export function placeSaid(
  sentence: Said | undefined,
  judged: number,
  judgedIn: UnitCode | '',
  display: Display,
): number | undefined {
  if (sentence === undefined) return undefined;
  const value = judgedIn === '' ? judged : toCanonical(judged, judgedIn);
  const isSame = (one: number) => Math.abs(one - value) <= 1e-9 * Math.max(Math.abs(one), Math.abs(value));
  const said = sentence.find(
    (part): part is SaidNumber =>
      typeof part !== 'string' &&
      part.unit === judgedIn &&
      [part.value, part.to ?? part.value, (part.value + (part.to ?? part.value)) / 2].some(isSame),
  );
  return said === undefined ? undefined : placesIn(sentence, display)(said);
}

function written(
  { value, to, symbol }: SaidNumber,
  unit: UnitCode | '',
  place: number,
  decimalMark: '.' | ',',
): string {
  const shown = [value, ...(to === undefined ? [] : [to])].map((one) => shownIn(unit, one));
  const texts = shown.sort((a, b) => a - b).map((one) => formatNumber(one, place, { decimalMark }));
  const numbers = [...new Set(texts)].join(' to ');
  const after = symbol ?? (unit === '' ? '' : unitSymbol(unit));
  return after === '' ? numbers : `${numbers}${THIN_SPACE}${after}`;
}

const shownIn = (unit: UnitCode | '', canonical: number) =>
  unit === '' ? canonical : fromCanonical(canonical, unit);

/** A number that stands beside a finding, as judged: the same in the reader's unit. */
export function inReadersUnit(
  judged: number,
  judgedIn: UnitCode | '',
  display: Display,
): { value: number; unit: UnitCode | '' } {
  if (judgedIn === '') return { value: judged, unit: '' };
  const value = toCanonical(judged, judgedIn);
  const unit = readersUnit({ value, unit: judgedIn, decimals: 0 }, display);
  return unit === judgedIn ? { value: judged, unit } : { value: shownIn(unit, value), unit };
}

/** A reciprocal unit says nothing of zero: such a number, or one held against zero, stays as it was judged. */
function readersUnit({ unit, value, to, apart = [] }: SaidNumber, display: Display): UnitCode | '' {
  const kind = KINDS.get(unit);
  if (kind === undefined) return unit;
  const isSaid = kind !== 'consumption' || Math.min(value, to ?? value, ...apart) > 0;
  return isSaid ? unitFor(kind, display) : unit;
}

/** One step of the last place may grow by this much from unit to unit: half a place (common practice, no source). */
const MOST_COARSER = 3;
const MOST_MORE_PLACES = 6;

/** The place in another unit: about as fine as judged, and finer where a number would read as a limit that it misses. */
function placeIn(unit: UnitCode, { value, unit: judged, decimals, apart = [] }: SaidNumber): number {
  if (judged === '') return decimals;
  const step = Math.abs(
    fromCanonical(toCanonical(fromCanonical(value, judged) + 10 ** -decimals, judged), unit) -
      fromCanonical(value, unit),
  );
  // a value so large that the last place does not move it has no step
  if (!(step > 0 && step < Number.POSITIVE_INFINITY)) return decimals;
  const least = Math.max(0, Math.ceil(-Math.log10(step * MOST_COARSER) - 1e-9));
  const shown = fromCanonical(value, unit);
  const missed = apart
    .map((limit) => fromCanonical(limit, unit))
    .filter((limit) => Math.abs(limit - shown) > 1e-9 * Math.max(Math.abs(limit), Math.abs(shown)));
  let place = least;
  while (
    place < least + MOST_MORE_PLACES &&
    missed.some((limit) => limit.toFixed(place) === shown.toFixed(place))
  ) {
    place += 1;
  }
  return place;
}
