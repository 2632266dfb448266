import { changedNames } from '@/app/(tester)/record/formValues';
import { Button } from '@/app/ui/Button';
import { Notice } from '@/app/ui/Notice';
import { cardTitle } from '@/lib/run/fields/fieldWords';
import { fieldValue } from './conflictWords';
import { conflictSettled, type FieldRun } from './fieldRun';
import type { Field } from './useField';

interface ConflictChoiceProps {
  field: Field;
  run: FieldRun;
  conflict: NonNullable<FieldRun['conflict']>;
}

/** Both versions side by side; nothing is sent or replaced before one of them is chosen. */
export function ConflictChoice({ field, run, conflict }: ConflictChoiceProps) {
  const { lists } = field;
  const settle = (choice: 'phone' | 'server') => {
    field.change(run.key, (now) => conflictSettled(now, choice));
  };
  return (
    <Notice
      kind="problem"
      title={
        conflict.isEditable
          ? 'This run was changed elsewhere while this phone held other values.'
          : 'This run has been submitted from elsewhere and can no longer be changed here.'
      }
      live
    >
      <table className="w-full text-left">
        <thead>
          <tr className="border-b border-rule-strong">
            <th scope="col">Field</th>
            <th scope="col">This phone</th>
            <th scope="col">The server</th>
          </tr>
        </thead>
        <tbody>
          {changedNames(run.form, conflict.form).map((name) => (
            <tr key={name} className="border-b border-rule">
              <th scope="row" className="font-normal">
                {cardTitle(name)}
              </th>
              <td className="num">{fieldValue(name, run.form[name], lists)}</td>
              <td className="num">{fieldValue(name, conflict.form[name], lists)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {conflict.isEditable ? (
        <Button size="field" onClick={() => settle('phone')}>
          Use what this phone holds
        </Button>
      ) : null}
      <Button size="field" onClick={() => settle('server')}>
        Use what the server holds
      </Button>
    </Notice>
  );
}
