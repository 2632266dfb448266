import type { InputIssue } from '@/lib/run/errors';
import type { BearingShare } from '@/lib/run/loopShape';
import { type NumberField, parseNumbers, typedAs } from '@/lib/run/numberField';
import { missingTexts, type RequiredText } from '@/lib/run/requiredText';

const LENGTH = ['km', 'mi', 'm'] as const;
const SHORT = ['m', 'ft'] as const;

/** The numbers of a loop's form, in the order in which it asks for them. */
export const LOOP_NUMBERS: readonly NumberField[] = [
  {
    name: 'lengthM',
    label: 'Length',
    hint: 'Out and back, start to finish.',
    units: LENGTH,
    isRequired: true,
    range: [2000, 1_500_000],
  },
  {
    name: 'lengthUncertaintyM',
    label: 'Standard uncertainty of the length',
    hint: 'One sigma. About 0.1 % from several traces, 0.5 % from a map.',
    units: ['m', 'km', 'ft'],
    isRequired: true,
    range: [0, 50_000],
  },
  {
    name: 'altitudeM',
    label: 'Mean altitude',
    hint: 'Above sea level. It sets the air pressure where none is reported.',
    units: SHORT,
    isRequired: true,
    allowNegative: true,
    range: [-500, 6000],
  },
  {
    name: 'netClimbM',
    label: 'Height of the finish above the start',
    hint: '0 where both are one place; below zero where the finish lies lower.',
    units: SHORT,
    isRequired: false,
    allowNegative: true,
    range: [-50, 50],
  },
  {
    name: 'grossClimbM',
    label: 'All climbs added up',
    hint: 'Over the whole loop, where known.',
    units: SHORT,
    isRequired: false,
    range: [0, 20_000],
  },
  {
    name: 'closureDistanceM',
    label: 'Distance between start and finish',
    hint: 'As the crow flies; 0 where both are one place.',
    units: SHORT,
    isRequired: true,
    range: [0, 50_000],
  },
  {
    name: 'closureHeightM',
    label: 'Height difference of start and finish',
    hint: 'Without sign.',
    units: SHORT,
    isRequired: true,
    range: [0, 1000],
  },
  {
    name: 'sharedRouteShare',
    label: 'Share of the route that both legs have in common',
    hint: 'Two carriageways of one road count as common.',
    units: ['%'],
    isRequired: true,
    range: [0, 1],
  },
  {
    name: 'offCruiseShare',
    label: 'Share of the distance off the cruise speed',
    hint: 'Ramps, the turnaround, streets to and from the start.',
    units: ['%'],
    isRequired: true,
    range: [0, 1],
  },
  {
    name: 'postedLimitMps',
    label: 'Posted limit',
    hint: 'The lowest one on the open legs. Cruise classes above it are refused.',
    units: ['km/h', 'mph'],
    isRequired: true,
    range: [5, 60],
  },
  {
    name: 'outboundLengthM',
    label: 'Length of the outbound leg',
    hint: 'Left empty, half of the whole.',
    units: LENGTH,
    isRequired: false,
    range: [500, 1_000_000],
  },
  {
    name: 'outboundClimbM',
    label: 'Height of the turnaround above the start',
    hint: 'Below zero where it lies lower. With it the two legs can tell the wind; left empty, they are not kept.',
    units: SHORT,
    isRequired: false,
    allowNegative: true,
    range: [-3000, 3000],
  },
];

/**
 * How well a length is known, in everyday words, for who does not know its standard uncertainty. As a share of the
 * length: common practice, no source, but for the first two, which the field's own hint has named all along. Two
 * per cent of a trip meter is what tyre wear and pressure make of it.
 */
export const LENGTH_KNOWN = [
  {
    value: 'recordings',
    label: 'From several recordings by satellite',
    share: 0.001,
    source: 'several satellite recordings',
  },
  { value: 'map', label: 'Measured on a map', share: 0.005, source: 'measured on a map' },
  { value: 'tripMeter', label: 'Read off a car’s trip meter', share: 0.02, source: 'trip meter of a car' },
] as const;

/** What most loops are like: the form begins with it, and whoever knows better says so. */
export const LOOP_DEFAULTS: Readonly<Record<string, string>> = {
  netClimbM: '0',
  closureDistanceM: '0',
  closureHeightM: '0',
  sharedRouteShare: '100',
  offCruiseShare: '5',
};

/** The form with the uncertainty and the source of the length that the choice of words stands for. */
function withLengthKnown(form: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  const known = LENGTH_KNOWN.find(({ value }) => value === form.lengthKnown);
  const { lengthM } = parseNumbers(
    form,
    LOOP_NUMBERS.filter(({ name }) => name === 'lengthM'),
  ).values;
  if (known === undefined) return form;
  return {
    ...form,
    // Without a length there is nothing to take a share of, and only the length is missing.
    lengthUncertaintyM: typedAs(known.share * (lengthM ?? 0), undefined),
    lengthUncertaintyMUnit: 'm',
    lengthSource: form.lengthSource?.trim() || known.source,
  };
}

/** What the words of how a length is known stand for. */
const STATED_LENGTH: readonly string[] = ['lengthUncertaintyM', 'lengthSource'];

/** Where neither words nor numbers say how well the length is known, the question is asked, once. */
function lengthAsked(form: Readonly<Record<string, string>>, issues: InputIssue[]): InputIssue[] {
  if (form.lengthKnown !== '' || (form.lengthUncertaintyM ?? '').trim() !== '') return issues;
  return [
    ...issues.filter(({ path }) => !STATED_LENGTH.includes(path)),
    {
      path: 'lengthKnown',
      what: 'How well the length is known is missing.',
      why: 'Every consumption is energy over this length.',
      fix: 'Choose how it was found.',
    },
  ];
}

const LOOP_TEXTS: readonly RequiredText[] = [
  { name: 'name', label: 'The name', why: 'Runs are listed under it.' },
  { name: 'region', label: 'The region', why: 'Readers place the loop by it.' },
  { name: 'turnaround', label: 'The turnaround', why: 'Others can only repeat what is described.' },
  {
    name: 'lengthSource',
    label: 'How the length was found',
    why: 'It says how far the length can be trusted.',
  },
];

/** Rows of directions that the form offers for each leg. */
export const BEARING_ROWS = 8;

export const bearingName = (leg: 'outbound' | 'return', row: number): string => `${leg}Bearing${row}`;
export const shareName = (leg: 'outbound' | 'return', row: number): string => `${leg}Share${row}`;

/** What the use case takes; shapes are checked there once more. */
export interface LoopInput {
  [name: string]: unknown;
  bearings: BearingShare[];
  legs: { direction: 'outbound' | 'return'; lengthM: number; netClimbM: number; bearings: BearingShare[] }[];
}

/**
 * Turns the form of a loop into the use case's input. The way back is the way out turned by 180° unless it is given.
 * The loop's own directions are those of both legs, each weighted with its length.
 */
export function parseLoopForm(typed: Readonly<Record<string, string>>): {
  input: LoopInput;
  issues: InputIssue[];
  /** Parts of the input whose faults are told at the form's own rows. */
  told: string[];
} {
  const form = withLengthKnown(typed);
  const { values, issues: numberIssues } = parseNumbers(form, LOOP_NUMBERS);
  const issues = lengthAsked(form, [...missingTexts(form, LOOP_TEXTS), ...numberIssues]);
  const outbound = parseBearings(form, 'outbound', issues);
  const given = parseBearings(form, 'return', issues);
  const back = given.length > 0 ? given : outbound.map(reversed);
  if (outbound.length === 0 && !issues.some((issue) => /^outbound(Bearing|Share)/.test(issue.path))) {
    issues.push({
      path: bearingName('outbound', 0),
      what: 'The direction of the outbound leg is missing.',
      why: 'Wind acts along and across the road.',
      fix: 'Enter at least one bearing with its share.',
    });
  }
  const { outboundLengthM, outboundClimbM, ...numbers } = values;
  const length = numbers.lengthM ?? 0;
  const outLength = outboundLengthM ?? length / 2;
  if (outboundLengthM !== undefined && length > 0 && outboundLengthM >= length) {
    issues.push({
      path: 'outboundLengthM',
      what: 'The outbound leg is not shorter than the loop.',
      why: 'The way back is part of the loop.',
      fix: 'Check both lengths and their units.',
    });
  }
  const outShare = length > 0 ? outLength / length : 0.5;
  return {
    issues,
    told: ['bearings', 'legs', ...(issues.some(({ path }) => path === 'lengthKnown') ? STATED_LENGTH : [])],
    input: {
      name: form.name ?? '',
      region: form.region ?? '',
      description: form.description ?? '',
      turnaround: form.turnaround ?? '',
      lengthSource: form.lengthSource ?? '',
      ...numbers,
      bearings: [...weighted(outbound, outShare), ...weighted(back, 1 - outShare)],
      legs:
        outboundClimbM === undefined
          ? []
          : [
              { direction: 'outbound', lengthM: outLength, netClimbM: outboundClimbM, bearings: outbound },
              {
                direction: 'return',
                lengthM: length - outLength,
                netClimbM: (numbers.netClimbM ?? 0) - outboundClimbM,
                bearings: back,
              },
            ],
    },
  };
}

function reversed({ bearingDeg, share }: BearingShare): BearingShare {
  return { bearingDeg: (bearingDeg + 180) % 360, share };
}

function weighted(bearings: readonly BearingShare[], weight: number): BearingShare[] {
  return bearings.map(({ bearingDeg, share }) => ({ bearingDeg, share: share * weight }));
}

/** Written shares are whole per cent: this much may be lost to rounding, and is spread over all. */
const SHARE_SLACK = 0.02;

function parseBearings(
  form: Readonly<Record<string, string>>,
  leg: 'outbound' | 'return',
  issues: InputIssue[],
): BearingShare[] {
  const found: BearingShare[] = [];
  const before = issues.length;
  for (let row = 0; row < BEARING_ROWS; row++) {
    const bearing = bearingName(leg, row);
    const share = shareName(leg, row);
    const texts = [form[bearing] ?? '', form[share] ?? ''].map((text) => text.trim());
    if (texts.every((text) => text === '')) continue;
    const parsed = parseNumbers(form, [
      { name: bearing, label: 'Bearing', hint: '', units: ['deg'], isRequired: true, range: [0, 360] },
      { name: share, label: 'Share', hint: '', units: ['%'], isRequired: true, range: [0, 1] },
    ]);
    issues.push(...parsed.issues);
    const [bearingDeg, part] = [parsed.values[bearing], parsed.values[share]];
    if (bearingDeg !== undefined && part !== undefined) found.push({ bearingDeg, share: part });
  }
  const sum = found.reduce((total, { share }) => total + share, 0);
  if (found.length > 0 && issues.length === before && Math.abs(sum - 1) > SHARE_SLACK) {
    issues.push({
      path: shareName(leg, 0),
      what: `The shares of the ${leg} leg add up to ${Math.round(sum * 100)} %.`,
      why: 'Together they describe the whole leg.',
      fix: 'Correct them so that they give 100 %.',
    });
  }
  return sum > 0 ? found.map((one) => ({ ...one, share: one.share / sum })) : found;
}
