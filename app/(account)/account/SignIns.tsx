import { Button } from '@/app/ui/Button';
import { type Column, DataTable } from '@/app/ui/DataTable';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { Minute, ZoneNote } from '@/app/ui/When';
import type { SignInView } from '@/lib/registry/accounts/signIns';
import { endAllSignIns, endOneSignIn } from './actions';

const COLUMNS: readonly Column<SignInView>[] = [
  {
    key: 'device',
    header: 'Place',
    rowHeader: true,
    cell: ({ device, isThisOne }) => (isThisOne ? `${device} (this one)` : device),
  },
  { key: 'since', header: 'Signed in', cell: ({ createdAt }) => <Minute at={createdAt} /> },
  { key: 'seen', header: 'Last seen', cell: ({ lastSeenAt }) => <Minute at={lastSeenAt} /> },
  {
    key: 'end',
    header: 'End',
    cell: ({ key, device, isThisOne }) => (
      <OneButtonForm action={endOneSignIn} className="gap-2">
        <input type="hidden" name="key" value={key} />
        <Button type="submit" variant="secondary">
          Sign out
          <span className="sr-only">
            {' '}
            {device}
            {isThisOne ? ', this one' : ''}
          </span>
        </Button>
      </OneButtonForm>
    ),
  },
];

/** Where the account is signed in, each with its end, and the end of all. */
export function SignIns({ rows }: { rows: readonly SignInView[] }) {
  return (
    <>
      <DataTable
        caption={
          <>
            <ZoneNote />; last seen is written every five minutes.
          </>
        }
        columns={COLUMNS}
        rows={rows}
        rowKey={({ key }) => key}
      />
      <form action={endAllSignIns} className="mt-4">
        <Button type="submit">Sign out everywhere</Button>
      </form>
    </>
  );
}
