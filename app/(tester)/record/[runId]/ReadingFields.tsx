import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { MarkedPart } from '@/app/ui/MarkedPart';
import type { ChoiceEntry, QuantityEntry } from '@/lib/run/fields/entry';
import type { RunSection } from '@/lib/run/fields/sections';
import { CHOICE_FIELDS, QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { markedPhoto } from '@/lib/run/photoMarks';
import { UNITS } from '@/lib/units/unit';
import type { FormParts } from './formParts';
import { Remarks } from './Remarks';

/** Every choice and every number that a section of the form asks for, as the field tables say. */
export function ReadingFields({ section, parts }: { section: RunSection; parts: FormParts }) {
  const choices = CHOICE_FIELDS.filter((field) => field.section === section);
  const quantities = QUANTITY_FIELDS.filter((field) => field.section === section);
  return (
    <>
      {choices.length > 0 ? (
        <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
          {choices.map((field) => (
            <Choice key={field.name} field={field} parts={parts} />
          ))}
        </div>
      ) : null}
      <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
        {quantities.map((field) => (
          <Reading key={field.name} field={field} parts={parts} />
        ))}
      </div>
    </>
  );
}

function Choice({ field, parts }: { field: ChoiceEntry; parts: FormParts }) {
  return (
    <ChoiceField
      name={field.name}
      label={field.label}
      hint={hintOf(field.name, field.hint, parts)}
      // A set of radios cannot be left again once touched; what may stay open is a select.
      kind={field.isRequired ? 'radio' : 'select'}
      emptyLabel={field.isRequired ? undefined : 'Not stated'}
      required={field.isRequired}
      options={field.options}
      defaultValue={parts.starting[field.name] ?? ''}
      error={errorOf(parts.issues, field.name)}
    />
  );
}

function Reading({ field, parts }: { field: QuantityEntry; parts: FormParts }) {
  const unitName = unitFieldName(field.name);
  const proof = markedPhoto(parts.photos, field.name);
  return (
    <div>
      <QuantityField
        name={field.name}
        label={field.label}
        hint={hintOf(field.name, field.hint, parts)}
        required={field.isRequired}
        units={field.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
        defaultValue={parts.starting[field.name] ?? ''}
        defaultUnit={parts.starting[unitName]}
        error={errorOf(parts.issues, field.name) ?? errorOf(parts.issues, unitName)}
      />
      {proof ? <MarkedPart {...proof} label={field.label} heightRem={3.5} className="mt-2" /> : null}
    </div>
  );
}

/** The field's own hint, then what the checks and the reviewer say of it. */
export function hintOf(name: string, hint: string, parts: FormParts) {
  const remarks = parts.remarks[name];
  const asked = parts.review?.remarks.filter((remark) => remark.field === name).map((remark) => remark.text);
  if (hint === '' && !remarks?.length && !asked?.length) return undefined;
  return (
    <>
      {hint}
      <Remarks texts={asked} from="Reviewer" />
      <Remarks texts={remarks} />
    </>
  );
}
