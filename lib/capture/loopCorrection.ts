import type { InputIssue } from '@/lib/run/errors';
import type { BearingShare } from '@/lib/run/loopShape';
import { typedAs, typedNumbers } from '@/lib/run/numberField';
import { BEARING_ROWS, bearingName, LOOP_NUMBERS, parseLoopForm, shareName } from './loopForm';

interface KnownLoop {
  [name: string]: unknown;
  directions: {
    legs: readonly {
      direction: string;
      lengthM: number;
      netClimbM: number;
      bearings: readonly BearingShare[];
    }[];
  } | null;
}

/** A loop on file as its form takes it; legs and directions where each leg is known, else empty: they stay then. */
export function loopFormOf({ directions, ...loop }: KnownLoop): Record<string, string> {
  const outbound = directions?.legs.find(({ direction }) => direction === 'outbound');
  const back = directions?.legs.find(({ direction }) => direction === 'return');
  const values: Record<string, unknown> = {
    ...loop,
    outboundLengthM: outbound?.lengthM,
    outboundClimbM: outbound?.netClimbM,
  };
  const texts = ['region', 'turnaround', 'description', 'lengthSource'].map((name) => [
    name,
    typeof values[name] === 'string' ? values[name] : '',
  ]);
  return Object.fromEntries([
    ...texts,
    ...Object.entries(typedNumbers(values, LOOP_NUMBERS)),
    ...rowsOf('outbound', outbound?.bearings ?? []),
    ...rowsOf('return', back?.bearings ?? []),
  ]);
}

/** A leg that has more directions than the form has rows is left empty: a part of it would be another leg. */
function rowsOf(leg: 'outbound' | 'return', bearings: readonly BearingShare[]): string[][] {
  if (bearings.length > BEARING_ROWS) return [];
  return bearings.flatMap(({ bearingDeg, share }, row) => [
    [bearingName(leg, row), typedAs(bearingDeg, 'deg')],
    [shareName(leg, row), typedAs(share, '%')],
  ]);
}

/** The form of a correction: all but the name, and legs and directions only where any of them is filled in. */
export function parseLoopCorrection(form: Readonly<Record<string, string>>): {
  input: Record<string, unknown>;
  issues: InputIssue[];
  told: string[];
} {
  const hasDirections = Object.entries(form).some(
    ([name, text]) => /^(outbound|return)(Bearing|Share)\d+$/.test(name) && text.trim() !== '',
  );
  const parsed = parseLoopForm({ ...form, name: 'of the loop' });
  const { name: _, bearings, legs, ...values } = parsed.input;
  if (hasDirections)
    return {
      input: { ...values, directions: { bearings, legs } },
      issues: parsed.issues,
      told: ['directions'],
    };
  const isOfDirections = ({ path }: InputIssue) => /^(outbound|return)/.test(path);
  const kept = LOOP_DIRECTION_NUMBERS.filter((name) => (form[name] ?? '').trim() !== '').map((name) => ({
    path: name,
    what: 'The legs are given, but no direction of them.',
    why: 'A leg is kept with the way it runs.',
    fix: 'Enter the bearings of both legs, or leave the legs empty as well.',
  }));
  return {
    input: values,
    issues: [...parsed.issues.filter((issue) => !isOfDirections(issue)), ...kept],
    told: [],
  };
}

const LOOP_DIRECTION_NUMBERS = ['outboundLengthM', 'outboundClimbM'];
