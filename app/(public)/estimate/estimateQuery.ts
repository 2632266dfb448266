import type { EstimateQuery } from '@/lib/registry/estimates/readEstimate';
import { readersUnit } from '@/lib/run/displayUnits';
import {
  ESTIMATE_CHOICES,
  ESTIMATE_DEFAULTS,
  ESTIMATE_NUMBERS,
  type EstimateNumber,
} from '@/lib/run/estimate/estimateFields';
import { typedUnit, unitFieldName } from '@/lib/run/numberField';
import { ADDRESS_NAMES, type Display } from '@/lib/units/display';
import { showPlain } from '@/lib/units/show';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { one, type SearchParams } from '../rankings/query';

/** Every name under which the form sends something. */
const FORM_NAMES: readonly string[] = [
  ...ESTIMATE_NUMBERS.flatMap(({ name, units }) => (units.length > 0 ? [name, unitFieldName(name)] : [name])),
  ...ESTIMATE_CHOICES.map(({ name }) => name),
];
const OTHER_NAMES = ['setup', 'against', 'class'] as const;

/** No number of ours is longer; what is longer was not typed. */
const LONGEST = 60;

/** The address as the read takes it. A number without its unit stands in the reader's. */
export function estimateQuery(params: SearchParams, display: Display): EstimateQuery {
  const form: Record<string, string> = {};
  for (const name of FORM_NAMES) {
    const text = one(params, name)?.slice(0, LONGEST);
    if (text !== undefined) form[name] = text;
  }
  for (const { name, units } of ESTIMATE_NUMBERS) {
    const unit = firstOf(units, display);
    if (unit !== undefined) form[unitFieldName(name)] ??= unit;
  }
  return {
    form,
    setupSlug: one(params, 'setup'),
    againstSlug: one(params, 'against'),
    classKey: one(params, 'class'),
    world: one(params, 'world'),
    find: one(params, 'find'),
  };
}

function firstOf(units: readonly UnitCode[], display: Display): UnitCode | undefined {
  const [first, ...others] = units;
  return first === undefined ? undefined : readersUnit([first, ...others], display);
}

/** What the fields show: as typed, else what stands unless told, in the unit beside it. */
export function shownForm(
  form: Readonly<Record<string, string>>,
  speedMps: number | undefined,
  display: Display,
): Record<string, string> {
  const shown = { ...form };
  const defaults: Partial<Record<EstimateNumber, number>> = {
    ...ESTIMATE_DEFAULTS,
    ...(speedMps === undefined ? {} : { speed: speedMps }),
  };
  for (const field of ESTIMATE_NUMBERS) {
    const value = defaults[field.name];
    const unit = typedUnit(form, field);
    if (form[field.name] === undefined && value !== undefined && unit !== undefined) {
      shown[field.name] = showPlain(fromCanonical(value, unit), display);
    }
  }
  return shown;
}

/** All that an address of an estimate says, for the page's own links and for its figures. */
export function estimateParams(params: SearchParams): SearchParams {
  const names = [...OTHER_NAMES, ...FORM_NAMES, ...Object.values(ADDRESS_NAMES)];
  return Object.fromEntries(
    names.flatMap((name) => {
      const value = one(params, name);
      return value === undefined ? [] : [[name, value.slice(0, 2 * LONGEST)]];
    }),
  );
}

/** An estimate of a setup, with what is known filled in: from any page that shows it. */
export function estimateHref(of: {
  setup?: string | undefined;
  against?: string | undefined;
  classKey?: string | undefined;
}): string {
  const query = new URLSearchParams();
  if (of.setup !== undefined) query.set('setup', of.setup);
  if (of.against !== undefined) query.set('against', of.against);
  if (of.classKey !== undefined) query.set('class', of.classKey);
  const text = query.toString();
  return text === '' ? '/estimate' : `/estimate?${text}`;
}
