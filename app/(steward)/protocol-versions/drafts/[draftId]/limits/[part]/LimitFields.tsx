import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import type { FormState } from '@/app/ui/forms/formState';
import { TextField } from '@/app/ui/forms/TextField';

export interface ShownLimit {
  name: string;
  afterwardsName: string;
  text: string;
  /** Empty where it is the same for runs recorded afterwards. */
  afterwards: string;
  label: string;
  kind: 'number' | 'choice' | 'yesNo';
  options: readonly { value: string; label: string }[];
  /** What the version in force says. */
  now: string;
}

interface LimitFieldsProps {
  limits: readonly ShownLimit[];
  state: FormState;
  /** What no rule reads has no limits of its own for runs recorded afterwards. */
  isOfNoRule?: boolean;
}

/** The limits of a rule, and behind a disclosure those that differ for runs recorded afterwards. */
export function LimitFields({ limits, state, isOfNoRule = false }: LimitFieldsProps) {
  if (limits.length === 0) return null;
  const hasAfterwards = limits.some(
    ({ afterwards, afterwardsName }) =>
      (state.values[afterwardsName] ?? afterwards) !== '' || errorOf(state.issues, afterwardsName),
  );
  return (
    <>
      <div className="grid gap-x-8 gap-y-4 sm:grid-cols-2">
        {limits.map((limit) => (
          <LimitField
            key={limit.name}
            limit={limit}
            name={limit.name}
            value={state.values[limit.name] ?? limit.text}
            hint={limit.now}
            error={errorOf(state.issues, limit.name)}
          />
        ))}
      </div>
      {isOfNoRule ? null : (
        <details open={hasAfterwards}>
          <summary className="disclosure">Other limits for runs recorded afterwards</summary>
          <div className="mt-3 grid gap-x-8 gap-y-4 sm:grid-cols-2">
            {limits.map((limit) => (
              <LimitField
                key={limit.afterwardsName}
                limit={limit}
                name={limit.afterwardsName}
                value={state.values[limit.afterwardsName] ?? limit.afterwards}
                hint="Recorded afterwards; empty: the same."
                error={errorOf(state.issues, limit.afterwardsName)}
                isOptional
              />
            ))}
          </div>
        </details>
      )}
    </>
  );
}

interface LimitFieldProps {
  limit: ShownLimit;
  name: string;
  value: string;
  hint: string;
  error: ReturnType<typeof errorOf>;
  isOptional?: boolean;
}

function LimitField({ limit, name, value, hint, error, isOptional = false }: LimitFieldProps) {
  if (limit.kind === 'number')
    return (
      <TextField
        name={name}
        label={limit.label}
        hint={hint}
        inputMode="decimal"
        defaultValue={value}
        error={error}
      />
    );
  return (
    <ChoiceField
      name={name}
      label={limit.label}
      hint={hint}
      defaultValue={value}
      error={error}
      options={
        limit.kind === 'yesNo'
          ? [
              { value: 'yes', label: 'yes' },
              { value: 'no', label: 'no' },
            ]
          : limit.options
      }
      {...(isOptional ? { emptyLabel: 'the same' } : {})}
    />
  );
}
