'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { ROLES } from '@/lib/run/roles';
import { changeRole } from './actions';

interface RoleFormProps {
  accountId: string;
  name: string;
  role: string;
}

export function RoleForm({ accountId, name, role }: RoleFormProps) {
  return (
    <OneButtonForm action={changeRole} className="gap-2">
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
    </OneButtonForm>
  );
}
