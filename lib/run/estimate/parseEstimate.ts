import { z } from 'zod';
import { type InputIssue, InvalidInput } from '../errors';
import { valuesOf } from '../namedValues';
import { parseNumbers } from '../numberField';
import { parseForm } from '../parseForm';
import {
  ESTIMATE_CHOICES,
  ESTIMATE_CLIMATES,
  ESTIMATE_DEFAULTS,
  ESTIMATE_NUMBERS,
  WAYS,
  WIND_FROM,
} from './estimateFields';

const number = z.number();
const optional = number.optional();

const refuse = (context: z.RefinementCtx, path: string, message: string) =>
  context.addIssue({ code: 'custom', path: [path], message });

/** What belongs together: what each number may be is said by its field. */
const schema = z
  .object({
    speed: optional,
    trip: number.default(ESTIMATE_DEFAULTS.trip),
    air: number.default(ESTIMATE_DEFAULTS.air),
    windSpeed: number.default(ESTIMATE_DEFAULTS.windSpeed),
    climb: number.default(ESTIMATE_DEFAULTS.climb),
    load: optional,
    start: number.default(ESTIMATE_DEFAULTS.start),
    arrive: number.default(ESTIMATE_DEFAULTS.arrive),
    low: number.default(ESTIMATE_DEFAULTS.low),
    high: number.default(ESTIMATE_DEFAULTS.high),
    charger: optional,
    stop: number.default(ESTIMATE_DEFAULTS.stop),
    homePrice: optional,
    wayPrice: optional,
    cabin: optional,
    battery: optional,
    capacity: optional,
    capacityOff: optional,
    pressure: optional,
    altitude: optional,
    humidity: optional,
    climate: z.enum(valuesOf(ESTIMATE_CLIMATES)),
    windFrom: z.enum(valuesOf(WIND_FROM)),
    way: z.enum(valuesOf(WAYS)),
  })
  .superRefine((asked, context) => {
    const { start, arrive, low, high, capacity, capacityOff, pressure, altitude, climb, way } = asked;
    if (arrive >= start) {
      refuse(
        context,
        'arrive',
        'The charge at arrival is not below that at departure. | A range is what lies between the two. | Arrive with less, or depart with more.',
      );
    }
    if (low >= high) {
      refuse(
        context,
        'high',
        'Charging on the way ends no higher than it begins. | Such a stop would charge nothing. | Charge to more than you charge from.',
      );
    } else if (arrive > high) {
      refuse(
        context,
        'high',
        'Charging on the way ends below the charge wanted at arrival. | No stop could get you there. | Charge to more, or arrive with less.',
      );
    }
    if (capacity !== undefined && capacityOff === undefined) {
      refuse(
        context,
        'capacityOff',
        'How sure the measured capacity is, is missing. | It is the largest part of how sure a range is. | Say what it may be off by, or leave the capacity empty.',
      );
    }
    if (capacity !== undefined && capacityOff !== undefined && capacityOff > capacity / 3) {
      refuse(
        context,
        'capacityOff',
        'A capacity that may be off by a third is not measured. | A range made from it would say nothing. | Check the digits and the unit, or leave both empty.',
      );
    }
    if (way === 'back' && climb !== 0) {
      refuse(
        context,
        'climb',
        'A trip there and back ends as high as it began. | What the way out climbs, the way back descends. | Leave the net climb empty or 0, or ask for one way.',
      );
    }
    if (pressure !== undefined && altitude !== undefined) {
      refuse(
        context,
        'altitude',
        'Both a pressure and an altitude are given. | The pressure at the place says all that the altitude would. | Leave one of them empty.',
      );
    }
  });

/** What a reader asks, in canonical units; undefined where nobody said and nothing usual stands in. */
export type EstimateAsked = z.output<typeof schema>;

export type ParsedEstimate =
  | { readonly ok: true; readonly asked: EstimateAsked }
  | { readonly ok: false; readonly issues: readonly InputIssue[] };

/** The query of an estimate's address: every fault at its field, all of them at once. */
export function parseEstimate(form: Readonly<Record<string, string>>): ParsedEstimate {
  const { values, issues } = parseNumbers(form, ESTIMATE_NUMBERS);
  const choices: Record<string, string> = {};
  for (const { name, label, options } of ESTIMATE_CHOICES) {
    const given = (form[name] ?? '').trim();
    const known = options.find(({ value }) => value === given) ?? (given === '' ? options[0] : undefined);
    if (known !== undefined) choices[name] = known.value;
    else issues.push(unknownChoice(name, label, given, options));
  }
  try {
    return { ok: true, asked: parseForm(schema, { input: { ...values, ...choices }, issues }) };
  } catch (error) {
    if (error instanceof InvalidInput) return { ok: false, issues: error.issues };
    throw error;
  }
}

function unknownChoice(
  path: string,
  label: string,
  given: string,
  options: readonly { label: string }[],
): InputIssue {
  return {
    path,
    what: `“${given.slice(0, 40)}” is none of the choices of “${label}”.`,
    why: 'Only the listed ones have a meaning.',
    fix: `Choose one of: ${options.map((option) => option.label).join(', ')}.`,
  };
}
