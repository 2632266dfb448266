'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { controlClass, FieldErrorText } from '@/app/ui/forms/Field';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import type { ImportMapper, MappedField, SheetColumn } from '@/lib/capture/sheet/importMapper';
import { checkSheet } from './actions';
import { MapWords } from './MapWords';

interface MapColumnsProps {
  importId: string;
  mapper: ImportMapper;
  submitText: string;
}

/** Every field of a run, the column that feeds it with its unit, or a value that holds for all rows. */
export function MapColumns({ importId, mapper, submitText }: MapColumnsProps) {
  const [state, dispatch] = useActionState(checkSheet, UNTOUCHED);
  return (
    <FormFrame label="Columns" state={state} dispatch={dispatch} submitText={submitText}>
      <input type="hidden" name="importId" value={importId} />
      {mapper.habits.length > 0 ? (
        <FormSection legend="How this file writes">
          {mapper.habits.map(({ name, label, options, value, problem }) => (
            <ChoiceField
              key={name}
              name={name}
              label={label}
              kind="radio"
              inline
              required
              options={options}
              defaultValue={value}
              error={problem === undefined ? undefined : { what: problem }}
            />
          ))}
        </FormSection>
      ) : null}
      {mapper.words.length > 0 ? <MapWords words={mapper.words} /> : null}
      {mapper.sections.map((section) => (
        <FormSection key={section.key} legend={section.label}>
          <ul className="divide-y divide-rule">
            {section.fields.map((field) => (
              <MapField key={field.name} field={field} columns={mapper.columns} />
            ))}
          </ul>
        </FormSection>
      ))}
    </FormFrame>
  );
}

function MapField({ field, columns }: { field: MappedField; columns: readonly SheetColumn[] }) {
  const errorId = `${field.name}-error`;
  const described = field.problem === undefined ? undefined : errorId;
  return (
    <li className="grid items-center gap-x-4 gap-y-2 py-3 sm:grid-cols-[minmax(0,13rem)_minmax(0,1fr)]">
      <div>
        <label htmlFor={`column.${field.name}`} className="text-sm font-semibold">
          {field.label}
        </label>
        {field.isRequired ? <span className="ml-1.5 text-xs text-ink-soft">required</span> : null}
        {field.problem ? <FieldErrorText id={errorId} error={{ what: field.problem }} /> : null}
      </div>
      <div className="flex flex-wrap items-center gap-2">
        <select
          id={`column.${field.name}`}
          name={`column.${field.name}`}
          defaultValue={field.column ?? ''}
          aria-describedby={described}
          aria-invalid={described ? true : undefined}
          className={`${controlClass()} w-full max-w-72 pr-1`}
        >
          <option value="">No column</option>
          {columns.map((column) => (
            <option key={column.index} value={column.index}>
              {columnWords(column)}
            </option>
          ))}
        </select>
        {field.units.length > 0 ? (
          <select
            name={`unit.${field.name}`}
            aria-label={`${field.label}, unit`}
            defaultValue={field.unit ?? field.units[0]?.value}
            className={`${controlClass()} pr-1`}
          >
            {field.units.map((unit) => (
              <option key={unit.value} value={unit.value}>
                {unit.label}
              </option>
            ))}
          </select>
        ) : null}
        <GivenValue field={field} />
      </div>
    </li>
  );
}

/** What holds for all rows whose cell is empty. */
function GivenValue({ field }: { field: MappedField }) {
  const name = `given.${field.name}`;
  const label = `${field.label}, for all rows`;
  if (field.givenOptions !== undefined) {
    return (
      <select
        name={name}
        aria-label={label}
        defaultValue={field.given}
        className={`${controlClass()} w-full max-w-64 pr-1`}
      >
        <option value="">Nothing for all rows</option>
        {field.givenOptions.map((option) => (
          <option key={option.value} value={option.value}>
            All rows: {option.label}
          </option>
        ))}
      </select>
    );
  }
  if (field.name !== 'utcOffsetMin') return null;
  return (
    <input
      name={name}
      aria-label={label}
      defaultValue={field.given}
      placeholder="All rows: +01:00"
      autoComplete="off"
      className={`${controlClass()} w-44`}
    />
  );
}

function columnWords({ letters, heading, samples }: SheetColumn): string {
  const sample = samples.find((text) => text !== '');
  const shown = sample === undefined ? '' : ` (${sample.slice(0, 20)})`;
  return `${letters}: ${heading.slice(0, 40) || 'no heading'}${shown}`;
}
