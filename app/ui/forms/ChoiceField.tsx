import type { ReactNode } from 'react';
import {
  controlClass,
  Field,
  type FieldError,
  FieldErrorText,
  FieldHint,
  type FieldSize,
  RequiredMark,
} from './Field';

export interface Choice {
  value: string;
  label: ReactNode;
  hint?: ReactNode;
  disabled?: boolean;
}

export interface ChoiceFieldProps {
  name: string;
  label: ReactNode;
  options: readonly Choice[];
  /** A few choices are shown as radios, many as a select, several at once as checkboxes. */
  kind?: 'radio' | 'select' | 'checkboxes';
  id?: string;
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  defaultValue?: string;
  /** What is ticked, for checkboxes. */
  defaultValues?: readonly string[];
  value?: string;
  onValueChange?: (value: string) => void;
  /** First, empty entry of a select, for example "Any". */
  emptyLabel?: string;
  size?: FieldSize;
  /** Radios and checkboxes side by side. */
  inline?: boolean;
}

export function ChoiceField(props: ChoiceFieldProps) {
  return props.kind === 'radio' || props.kind === 'checkboxes' ? (
    <ChoiceSet {...props} />
  ) : (
    <ChoiceSelect {...props} />
  );
}

function ChoiceSelect(props: ChoiceFieldProps) {
  const {
    name,
    id = name,
    label,
    hint,
    error,
    required,
    size,
    options,
    emptyLabel,
    value,
    onValueChange,
  } = props;
  return (
    <Field id={id} label={label} hint={hint} error={error} required={required} size={size}>
      {(control) => (
        <select
          {...control}
          name={name}
          defaultValue={value === undefined ? props.defaultValue : undefined}
          value={value}
          onChange={onValueChange ? (event) => onValueChange(event.target.value) : undefined}
          className={`${controlClass(size)} w-full max-w-[28rem] pr-1`}
        >
          {emptyLabel === undefined ? null : <option value="">{emptyLabel}</option>}
          {options.map((option) => (
            <option key={option.value} value={option.value} disabled={option.disabled}>
              {option.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

function ChoiceSet(props: ChoiceFieldProps) {
  const {
    name,
    id = name,
    label,
    hint,
    error,
    required,
    size = 'normal',
    options,
    inline,
    value,
    onValueChange,
  } = props;
  const many = props.kind === 'checkboxes';
  const hintId = `${id}-hint`;
  const errorId = `${id}-error`;
  const described = [hint ? hintId : '', error ? errorId : ''].filter(Boolean).join(' ') || undefined;
  const big = size === 'field';
  return (
    <fieldset
      id={id}
      tabIndex={-1}
      aria-describedby={described}
      className={error ? 'border-l-4 border-problem pl-3' : ''}
    >
      <legend className={`float-left w-full font-semibold ${big ? 'text-lg' : 'text-sm'}`}>
        {label}
        <RequiredMark required={required} />
      </legend>
      <div className="clear-both">
        {hint ? <FieldHint id={hintId}>{hint}</FieldHint> : null}
        {error ? <FieldErrorText id={errorId} error={error} /> : null}
      </div>
      <div className={`mt-1.5 ${inline ? 'flex flex-wrap gap-x-6' : ''} ${big ? 'space-y-2' : ''}`}>
        {options.map((option, index) => {
          const optionId = `${id}-${index}`;
          return (
            <div
              key={option.value}
              className={`flex items-start gap-2.5 ${big ? 'border border-rule-strong bg-sheet px-4 has-checked:border-accent has-checked:bg-accent-wash' : ''}`}
            >
              <input
                id={optionId}
                type={many ? 'checkbox' : 'radio'}
                name={name}
                value={option.value}
                disabled={option.disabled}
                required={!many && required ? true : undefined}
                aria-describedby={option.hint ? `${optionId}-hint` : undefined}
                aria-invalid={error ? true : undefined}
                {...(onValueChange
                  ? { checked: value === option.value, onChange: () => onValueChange(option.value) }
                  : {
                      defaultChecked: many
                        ? props.defaultValues?.includes(option.value)
                        : props.defaultValue === option.value,
                    })}
                className={`shrink-0 accent-accent ${big ? 'mt-4 size-6' : 'mt-2 size-5'}`}
              />
              <label
                htmlFor={optionId}
                className={`flex-1 ${big ? 'min-h-14 py-3.5 text-lg' : 'min-h-9 py-1'}`}
              >
                {option.label}
                {option.hint ? (
                  <span id={`${optionId}-hint`} className="block text-sm text-ink-soft">
                    {option.hint}
                  </span>
                ) : null}
              </label>
            </div>
          );
        })}
      </div>
    </fieldset>
  );
}
