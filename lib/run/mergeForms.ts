import { QUANTITY_FIELDS } from './fields/table';
import { unitFieldName } from './numberField';
import { RUN_FORM_NAMES, type RunForm } from './runForm';

export type Side = 'mine' | 'theirs';

/** A field that was changed in two places, or emptied in one of them: only its tester can say what it is to hold. */
export interface AskedField {
  /** The field by whose name it is asked; a reading's unit goes with its number. */
  name: string;
  mine: RunForm;
  theirs: RunForm;
}

export interface MergedForms {
  /** Both sides' changes; of a field that is asked, mine until it is answered. */
  form: RunForm;
  asked: AskedField[];
  /** Fields that took the other side's value. */
  taken: string[];
}

/**
 * What is one answer though the form has two fields for it. A number without its unit is another number, and a time
 * without its offset another instant, so the two are never taken from different sides.
 */
const PARTNERS: ReadonlyMap<string, string> = new Map([
  ...QUANTITY_FIELDS.map(({ name }) => [name, unitFieldName(name)] as const),
  ['startedAtLocal', 'utcOffsetMin'],
]);

/** On the sheet of a day names have a prefix, and so have their partners. */
function partnerOf(name: string): string | undefined {
  const at = name.lastIndexOf('.') + 1;
  const partner = PARTNERS.get(name.slice(at));
  return partner === undefined ? undefined : `${name.slice(0, at)}${partner}`;
}

type Group = readonly [string, ...string[]];

function groupsOf(names: readonly string[]): readonly Group[] {
  const known = new Set(names);
  const partners = new Map(
    names.flatMap((name) => {
      const partner = partnerOf(name);
      return partner !== undefined && known.has(partner) ? [[name, partner] as const] : [];
    }),
  );
  const second = new Set(partners.values());
  return names
    .filter((name) => !second.has(name))
    .map((name): Group => {
      const partner = partners.get(name);
      return partner === undefined ? [name] : [name, partner];
    });
}

const GROUPS = groupsOf(RUN_FORM_NAMES);

function groupsOfForm(names: readonly string[]): readonly Group[] {
  return names === RUN_FORM_NAMES ? GROUPS : groupsOf(names);
}

/**
 * Merges two versions of a draft that came from one (three-way merge, field by field): what only one side changed is
 * taken from it, what both changed alike stands, and what they changed differently is asked. So is a value that one
 * side emptied: nothing typed is lost for an empty field that nobody meant.
 *
 * @param names of the fields, where it is not a run's own form
 */
export function mergeForms(
  base: RunForm,
  mine: RunForm,
  theirs: RunForm,
  names: readonly string[] = RUN_FORM_NAMES,
): MergedForms {
  const merged: MergedForms = { form: {}, asked: [], taken: [] };
  for (const group of groupsOfForm(names)) {
    const [name] = group;
    const isSame = (a: RunForm, b: RunForm) => isSameAnswer(group, a, b);
    const isMine = isSame(mine, theirs) || isSame(theirs, base);
    const isTheirs = !isMine && isSame(mine, base);
    const chosen = isTheirs ? theirs : mine;
    const isErased = isEmpty(chosen[name]) && !(isEmpty(mine[name]) && isEmpty(theirs[name]));
    if ((isMine || isTheirs) && !isErased) {
      if (isTheirs) merged.taken.push(name);
    } else {
      merged.asked.push({ name, mine: partOf(group, mine), theirs: partOf(group, theirs) });
    }
    Object.assign(merged.form, partOf(group, chosen));
  }
  return merged;
}

/** A form with the answers to what was asked: `theirs` where the tester chose the other side's value. */
export function settled(
  { form, asked }: Pick<MergedForms, 'form' | 'asked'>,
  choices: ReadonlyMap<string, Side>,
): RunForm {
  const answered = { ...form };
  for (const field of asked) {
    for (const name of [field.name, partnerOf(field.name) ?? field.name]) delete answered[name];
    Object.assign(answered, choices.get(field.name) === 'theirs' ? field.theirs : field.mine);
  }
  return answered;
}

/** The questions again, by the names that were asked, as both sides now stand. */
export function askedAgain(
  asked: readonly string[],
  mine: RunForm,
  theirs: RunForm,
  names: readonly string[] = RUN_FORM_NAMES,
): AskedField[] {
  return groupsOfForm(names)
    .filter(([name]) => asked.includes(name))
    .map((group) => ({
      name: group[0],
      mine: partOf(group, mine),
      theirs: partOf(group, theirs),
    }));
}

function isSameAnswer([name, partner]: readonly string[], a: RunForm, b: RunForm): boolean {
  if (name === undefined) return true;
  const [first, second] = [textOf(a[name]), textOf(b[name])];
  if (first !== second) return false;
  // The unit that stands beside an empty field says nothing yet.
  return first.trim() === '' || partner === undefined || textOf(a[partner]) === textOf(b[partner]);
}

function isEmpty(value: string | undefined): boolean {
  return (value ?? '').trim() === '';
}

/** A posted form ends lines otherwise than the field that was typed into. */
function textOf(value: string | undefined): string {
  return (value ?? '').replaceAll('\r\n', '\n');
}

function partOf(group: readonly string[], form: RunForm): RunForm {
  return Object.fromEntries(group.flatMap((name) => (form[name] ? [[name, form[name]]] : [])));
}
