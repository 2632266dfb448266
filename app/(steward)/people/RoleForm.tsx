'use client';

import { useActionState } from 'react';
import { SubmitButton } from '@/app/ui/SubmitButton';
import { EMPTY_FORM_STATE } from '@/app/visitor/formState';
import { ROLES } from '@/lib/run/roles';
import { changeRole } from './actions';

interface RoleFormProps {
  accountId: string;
  name: string;
  role: string;
}

export function RoleForm({ accountId, name, role }: RoleFormProps) {
  const [state, submit] = useActionState(changeRole, EMPTY_FORM_STATE);
  return (
    <form action={submit} className="flex flex-wrap items-center gap-2">
      <input type="hidden" name="accountId" value={accountId} />
      <select
        name="role"
        defaultValue={role}
        aria-label={`Role of ${name}`}
        className="min-h-9 border border-rule-strong bg-paper px-2"
      >
        {ROLES.map((one) => (
          <option key={one} value={one}>
            {one}
          </option>
        ))}
      </select>
      <SubmitButton variant="secondary">Change</SubmitButton>
      <span role="status" className="text-sm">
        {state.problem?.title ?? state.done ?? ''}
      </span>
    </form>
  );
}
