/**
 * Finds the one slip in copying a display that would make all of a run's readings agree (method A1).
 *
 * Tried for each reading that every failed check has in common: another digit in one place, two neighbouring digits
 * swapped, a decimal mark left out or one place off, another unit of the same quantity. A change is offered only when
 * every check that could be made before can still be made and none fails. Two slips at once are not looked for: with
 * so much freedom almost any readings can be made to agree, and the offer would mean nothing.
 */
import {
  type ParsedQuantity,
  type ParseOptions,
  parseQuantity,
  type RefusedQuantity,
} from '@/lib/units/parse';
import { dimensionOf, type UnitCode, unitsOf } from '@/lib/units/unit';
import { type ConsistencyCheck, checkConsistency, inconsistentChecks } from './consistency';
import { type Interval, type ReadingName, type Readings, readingLabels, readingNames } from './readings';

/** A reading as typed, in the display's own unit. */
export interface TypedReading extends Pick<ParseOptions, 'lastDigitStep' | 'rounding'> {
  readonly text: string;
  readonly unit: UnitCode;
}

export type TypedReadings = { readonly [name in ReadingName]?: TypedReading };

export interface TypedResult {
  readonly readings: Readings;
  readonly refused: readonly { readonly name: ReadingName; readonly message: string }[];
}

export type SlipKind = 'digit' | 'swappedDigits' | 'decimalMark' | 'unit';

export interface MisreadCandidate {
  readonly reading: ReadingName;
  readonly kind: SlipKind;
  readonly from: TypedReading;
  readonly to: TypedReading;
  /** 1 for the first choice; equally likely ones share a rank. */
  readonly rank: number;
  /** How far the worst check then sits from its centre: 0 in the middle, 1 at the edge of what rounding allows. */
  readonly misfit: number;
  readonly sentence: string;
}

/** Turns typed texts into intervals in canonical units; an unreadable text is named, never guessed. */
export function readTyped(typed: TypedReadings): TypedResult {
  const readings: { [name in ReadingName]?: Interval } = {};
  const refused: { name: ReadingName; message: string }[] = [];
  for (const name of readingNames) {
    const reading = typed[name];
    if (reading === undefined || reading.text.trim() === '') continue;
    const parsed = parseReading(reading);
    if (parsed.ok) readings[name] = { value: parsed.value, low: parsed.low, high: parsed.high };
    else refused.push({ name, message: parsed.message });
  }
  return { readings, refused };
}

/**
 * @param typed the readings as typed
 * @param known readings that were not typed (a car's usable capacity from its record), in canonical units
 * @returns the slips that would make all checks meet, most likely first; empty when nothing fails or nothing helps
 */
export function findMisreads(typed: TypedReadings, known: Readings = {}): MisreadCandidate[] {
  const readings: Readings = { ...known, ...readTyped(typed).readings };
  const checks = checkConsistency(readings);
  const failed = inconsistentChecks(checks);
  if (failed.length === 0) return [];
  const made = checks.filter((check) => check.outcome !== 'notChecked').length;

  const found: { reading: ReadingName; slip: Slip; misfit: number; score: number }[] = [];
  for (const reading of suspects(failed, typed)) {
    const from = typed[reading] as TypedReading;
    for (const slip of slipsOf(from)) {
      const parsed = parseReading(slip.to);
      if (!parsed.ok) continue;
      const tried = checkConsistency({
        ...readings,
        [reading]: { value: parsed.value, low: parsed.low, high: parsed.high },
      });
      const stillMade = tried.filter((check) => check.outcome !== 'notChecked').length;
      if (stillMade < made || inconsistentChecks(tried).length > 0) continue;
      const misfit = worstMisfit(tried, reading);
      found.push({ reading, slip, misfit, score: slip.cost + misfit });
    }
  }
  found.sort((a, b) => a.score - b.score);
  const lead = (found[1]?.score ?? Number.POSITIVE_INFINITY) - (found[0]?.score ?? 0);
  return found.map(({ reading, slip, misfit, score }) => {
    const from = typed[reading] as TypedReading;
    const rank = 1 + found.filter((other) => other.score < score).length;
    const sentence = phraseSlip(reading, from, slip.to, rank === 1 && lead >= clearLead);
    return { reading, kind: slip.kind, from, to: slip.to, rank, misfit, sentence };
  });
}

interface Slip {
  readonly kind: SlipKind;
  readonly to: TypedReading;
  /** Order of likelihood only: 1 look-alike digits, swaps and units, 2 a mark out of place, 3 any other digit. */
  readonly cost: 1 | 2 | 3;
}

/** The first choice is called probable when it leads the second by this much of cost and misfit together (ours). */
const clearLead = 0.2;

/** Digits that look alike on a segment display or in handwriting (common practice, no source). */
const lookAlikes = ['08', '38', '56', '68', '89', '17', '39', '06', '59', '35', '49', '12', '27'];

function slipsOf(from: TypedReading): Slip[] {
  const text = from.text.trim();
  const slips: Slip[] = [
    ...digitChanges(text).map(({ changed, alike }) => ({
      kind: 'digit' as const,
      to: { ...from, text: changed },
      cost: alike ? (1 as const) : (3 as const),
    })),
    ...digitSwaps(text).map((changed) => ({
      kind: 'swappedDigits' as const,
      to: { ...from, text: changed },
      cost: 1 as const,
    })),
    ...markMoves(text).map((changed) => ({
      kind: 'decimalMark' as const,
      to: { ...from, text: changed },
      cost: 2 as const,
    })),
  ];
  if (!text.includes(':')) {
    for (const unit of displayUnits(from.unit)) slips.push({ kind: 'unit', to: { ...from, unit }, cost: 1 });
  }
  // Two ways can give one text (equal digits swapped give the text itself); the likelier is kept.
  const seen = new Set<string>([`${text} ${from.unit}`]);
  return slips
    .sort((a, b) => a.cost - b.cost)
    .filter(({ to }) => {
      const key = `${to.text} ${to.unit}`;
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

function digitChanges(text: string): { changed: string; alike: boolean }[] {
  const changes: { changed: string; alike: boolean }[] = [];
  for (const [at, old] of [...text].entries()) {
    if (!isDigit(old)) continue;
    for (const digit of '0123456789') {
      if (digit === old) continue;
      const changed = text.slice(0, at) + digit + text.slice(at + 1);
      if (hasIdleZero(changed)) continue;
      const pair = [old, digit].sort().join('');
      changes.push({ changed, alike: lookAlikes.includes(pair) });
    }
  }
  return changes;
}

function digitSwaps(text: string): string[] {
  const places = [...text].flatMap((char, at) => (isDigit(char) ? [at] : []));
  const swaps: string[] = [];
  for (let i = 0; i + 1 < places.length; i++) {
    const chars = [...text];
    const [a, b] = [places[i] as number, places[i + 1] as number];
    [chars[a], chars[b]] = [chars[b] as string, chars[a] as string];
    const changed = chars.join('');
    if (!hasIdleZero(changed)) swaps.push(changed);
  }
  return swaps;
}

/** A mark put into a number without one; a mark moved by one place, or taken out, in a number with one. */
function markMoves(text: string): string[] {
  if (!/^\d+([.,]\d+)?$/.test(text)) return [];
  const mark = text.includes(',') ? ',' : '.';
  const at = text.search(/[.,]/);
  const digits = text.replace(/[.,]/, '');
  const places = at < 0 ? Array.from({ length: digits.length - 1 }, (_, i) => i + 1) : [at - 1, at + 1];
  return places
    .filter((place) => place > 0 && place <= digits.length)
    .map((place) =>
      place === digits.length ? digits : `${digits.slice(0, place)}${mark}${digits.slice(place)}`,
    )
    .filter((changed) => !hasIdleZero(changed));
}

/** Units that a car or a charger shows; no trip display counts in feet, metres per second or knots. */
function displayUnits(unit: UnitCode): UnitCode[] {
  const never: readonly UnitCode[] = ['m', 'ft', 'm/s', 'kn', 's'];
  return unitsOf(dimensionOf(unit)).filter((other) => other !== unit && !never.includes(other));
}

/** A leading zero that no display shows: 06.5, 012. */
function hasIdleZero(text: string): boolean {
  return /^0\d/.test(text);
}

function isDigit(char: string): boolean {
  return char >= '0' && char <= '9';
}

/** Readings that were typed and that every failed check uses, in the order of the form. */
function suspects(failed: readonly ConsistencyCheck[], typed: TypedReadings): ReadingName[] {
  return readingNames.filter(
    (name) => typed[name] !== undefined && failed.every((check) => check.readings.includes(name)),
  );
}

function worstMisfit(checks: readonly ConsistencyCheck[], reading: ReadingName): number {
  let worst = 0;
  for (const { readings, numbers, id } of checks) {
    // An inequality is met or not; how deep inside it a reading lies says nothing about a slip.
    const isEquality = [
      'efficiency',
      'outboundEfficiency',
      'meanSpeed',
      'chargeDrop',
      'chargerEnergy',
      'odometer',
    ];
    if (numbers === null || !readings.includes(reading) || !isEquality.includes(id)) continue;
    const { derived, shown } = numbers;
    const reach = (derived.high - derived.low + shown.high - shown.low) / 2;
    const gap = Math.abs((derived.low + derived.high - shown.low - shown.high) / 2);
    if (reach > 0) worst = Math.max(worst, Math.min(1, gap / reach));
  }
  return worst;
}

function parseReading(reading: TypedReading): ParsedQuantity | RefusedQuantity {
  const { lastDigitStep, rounding } = reading;
  return parseQuantity(reading.text, reading.unit, { lastDigitStep, rounding });
}

function phraseSlip(reading: ReadingName, from: TypedReading, to: TypedReading, isAlone: boolean): string {
  const show = (typed: TypedReading) =>
    from.unit === to.unit ? typed.text.trim() : `${typed.text.trim()} ${typed.unit}`;
  return `${isAlone ? 'Probably' : 'Possibly'} misread: ${readingLabels[reading]} ${show(from)} → ${show(to)}.`;
}
