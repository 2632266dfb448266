import type { ReactNode } from 'react';
import { controlClass, Field, type FieldError, type FieldSize } from './Field';

export interface UnitOption {
  value: string;
  label: string;
}

export interface QuantityFieldProps {
  name: string;
  label: ReactNode;
  /** One unit is printed after the number; several become a choice. */
  units: readonly UnitOption[];
  /** Name under which the chosen unit is sent; `<name>Unit` unless told. */
  unitName?: string;
  defaultUnit?: string;
  unit?: string;
  onUnitChange?: (unit: string) => void;
  id?: string;
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  defaultValue?: string;
  value?: string;
  onValueChange?: (value: string) => void;
  placeholder?: string;
  size?: FieldSize;
  isLabelHidden?: boolean;
}

/**
 * A number as it stands on the display, with its unit. A text input, not a number input: the digits
 * typed tell the resolution ("18.40" is not "18.4"), and a comma must be read, not dropped.
 */
export function QuantityField({
  name,
  id = name,
  label,
  units,
  unitName = `${name}Unit`,
  defaultUnit,
  unit,
  onUnitChange,
  hint,
  error,
  required,
  size,
  isLabelHidden,
  onValueChange,
  ...rest
}: QuantityFieldProps) {
  const only = units.length === 1 ? units[0] : undefined;
  return (
    <Field {...{ id, label, hint, error, required, size, isLabelHidden }}>
      {(control) => (
        <div className="flex items-center gap-2">
          <input
            {...rest}
            {...control}
            aria-describedby={
              [control['aria-describedby'], only ? `${id}-unit` : ''].filter(Boolean).join(' ') || undefined
            }
            name={name}
            type="text"
            inputMode="decimal"
            autoComplete="off"
            spellCheck={false}
            onChange={onValueChange ? (event) => onValueChange(event.target.value) : undefined}
            className={`${controlClass(size)} num min-w-0 text-right ${size === 'field' ? 'flex-1' : 'w-32'}`}
          />
          {only ? (
            <>
              <span
                id={`${id}-unit`}
                className={`whitespace-nowrap ${size === 'field' ? 'text-lg' : 'text-sm'} text-ink-soft`}
              >
                {only.label}
              </span>
              <input type="hidden" name={unitName} value={only.value} />
            </>
          ) : (
            <select
              name={unitName}
              aria-label={typeof label === 'string' ? `${label}, unit` : 'Unit'}
              defaultValue={unit === undefined ? defaultUnit : undefined}
              value={unit}
              onChange={onUnitChange ? (event) => onUnitChange(event.target.value) : undefined}
              className={`${controlClass(size)} pr-1 pl-2`}
            >
              {units.map((option) => (
                <option key={option.value} value={option.value}>
                  {option.label}
                </option>
              ))}
            </select>
          )}
        </div>
      )}
    </Field>
  );
}
