import { inOrder } from '@/app/ui/forms/fieldErrors';
import { QUANTITY_FIELDS, type QuantityField } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { RUN_FORM_NAMES, RUN_FORM_ORDER, type RunForm } from '@/lib/run/runForm';

/** The draft in a posted form; buttons, files and the framework's own fields stay out, and so does what is empty. */
export function runFormOf(data: FormData, names: readonly string[] = RUN_FORM_NAMES): RunForm {
  const form: RunForm = {};
  for (const name of names) {
    const value = data.get(name);
    if (typeof value === 'string' && value !== '') form[name] = value;
  }
  return form;
}

/** What stands in the fields when a draft is opened: what was typed, and a unit for every quantity. */
export function startingValues(form: RunForm, units: Readonly<Record<string, string>>): RunForm {
  const values: RunForm = {};
  for (const name of RUN_FORM_NAMES) if (form[name]) values[name] = form[name];
  for (const field of QUANTITY_FIELDS) values[unitFieldName(field.name)] = unitFor(field, form, units);
  return values;
}

function unitFor(
  { name, units: known }: QuantityField,
  form: RunForm,
  units: Readonly<Record<string, string>>,
): string {
  return (
    known.find((unit) => unit === form[unitFieldName(name)]) ??
    known.find((unit) => unit === units[name]) ??
    known[0]
  );
}

/** The names under which two drafts differ; an empty field and a missing one are the same. */
export function changedNames(a: RunForm, b: RunForm, names: readonly string[] = RUN_FORM_NAMES): string[] {
  return names.filter((name) => (a[name] ?? '') !== (b[name] ?? ''));
}

/** In the order in which the form shows the fields; what belongs to none of them comes last. */
export function inFormOrder<Issue extends { path: string }>(issues: readonly Issue[]): Issue[] {
  return inOrder(issues, RUN_FORM_ORDER);
}

/** The issues of fields that still stand as they were sent: of one changed since, nothing is known any more. */
export function standingIssues<Issue extends { path: string }>(
  issues: readonly Issue[],
  sent: RunForm,
  now: RunForm,
): Issue[] {
  const changed = new Set(changedNames(asTyped(sent), asTyped(now)).map(idOfPath));
  return issues.filter(({ path }) => !changed.has(idOfPath(path)));
}

/** A posted form ends lines otherwise than the field that was typed into. */
function asTyped(form: RunForm): RunForm {
  return Object.fromEntries(
    Object.entries(form).map(([name, value]) => [name, value?.replaceAll('\r\n', '\n')]),
  );
}

/** The control to go to: a unit's issue is shown at its quantity. */
export function idOfPath(path: string): string {
  return QUANTITY_FIELDS.find((field) => unitFieldName(field.name) === path)?.name ?? path;
}
