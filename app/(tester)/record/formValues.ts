import { inOrder } from '@/app/ui/forms/fieldErrors';
import {
  CHOICE_FIELDS,
  EVIDENCE_KINDS,
  QUANTITY_FIELDS,
  RUN_SECTIONS,
  type RunForm,
  type RunSection,
  unitFieldName,
} from '@/lib/run/fields';

const OTHER_NAMES = [
  'carId',
  'setupId',
  'loopId',
  'cruiseClassKey',
  'startedAtLocal',
  'utcOffsetMin',
  'isRetrospective',
  'stationReport',
  'notes',
] as const;

/** Every name under which the run form sends something that belongs to the draft. */
export const RUN_FORM_NAMES: readonly string[] = [
  ...OTHER_NAMES,
  ...CHOICE_FIELDS.map((field) => field.name),
  ...QUANTITY_FIELDS.flatMap((field) => [field.quantity, unitFieldName(field.quantity)]),
];

/** The draft in a posted form; buttons, files and the framework's own fields stay out, and so does what is empty. */
export function runFormOf(data: FormData): RunForm {
  const form: RunForm = {};
  for (const name of RUN_FORM_NAMES) {
    const value = data.get(name);
    if (typeof value === 'string' && value !== '') form[name] = value;
  }
  return form;
}

/** What stands in the fields when a draft is opened: what was typed, and a unit for every quantity. */
export function startingValues(form: RunForm, units: Readonly<Record<string, string>>): RunForm {
  const values: RunForm = {};
  for (const name of RUN_FORM_NAMES) if (form[name]) values[name] = form[name];
  for (const field of QUANTITY_FIELDS)
    values[unitFieldName(field.quantity)] = unitFor(field.quantity, form, units);
  return values;
}

function unitFor(quantity: string, form: RunForm, units: Readonly<Record<string, string>>): string {
  const field = QUANTITY_FIELDS.find((candidate) => candidate.quantity === quantity);
  const known: readonly string[] = field?.units ?? [];
  const wanted = [form[`${quantity}Unit`], units[quantity], known[0]];
  return wanted.find((unit) => unit !== undefined && known.includes(unit)) ?? '';
}

/** The names under which two drafts differ; an empty field and a missing one are the same. */
export function changedNames(a: RunForm, b: RunForm): string[] {
  return RUN_FORM_NAMES.filter((name) => (a[name] ?? '') !== (b[name] ?? ''));
}

const FIRST_IN_SECTION: Readonly<Partial<Record<RunSection, readonly string[]>>> = {
  setup: ['carId', 'setupId'],
  loop: ['loopId', 'cruiseClassKey'],
  start: ['startedAtLocal', 'utcOffsetMin', 'isRetrospective'],
};

const ORDER: readonly string[] = [
  ...RUN_SECTIONS.flatMap(({ key }) => [
    ...(FIRST_IN_SECTION[key] ?? []),
    ...CHOICE_FIELDS.filter((field) => field.section === key).map((field) => field.name),
    ...QUANTITY_FIELDS.filter((field) => field.section === key).flatMap((field) => [
      field.quantity,
      unitFieldName(field.quantity),
    ]),
    ...(key === 'conditions' ? ['stationReport', 'notes'] : []),
  ]),
  ...EVIDENCE_KINDS.map((kind) => `evidence.${kind.value}`),
];

/** In the order in which the form shows the fields; what belongs to none of them comes last. */
export function inFormOrder<Issue extends { path: string }>(issues: readonly Issue[]): Issue[] {
  return inOrder(issues, ORDER);
}

/** The control to go to: a unit's issue is shown at its quantity. */
export function idOfPath(path: string): string {
  return QUANTITY_FIELDS.find((field) => unitFieldName(field.quantity) === path)?.quantity ?? path;
}
