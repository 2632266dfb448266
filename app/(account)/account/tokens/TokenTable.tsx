import { Button } from '@/app/ui/Button';
import { type Column, DataTable } from '@/app/ui/DataTable';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { Minute, ZoneNote } from '@/app/ui/When';
import type { TokenView } from '@/lib/registry/accounts/personalTokens';
import { revokeToken } from './actions';

const COLUMNS: readonly Column<TokenView>[] = [
  { key: 'name', header: 'For', rowHeader: true, cell: ({ name }) => name },
  { key: 'mayDo', header: 'May', wide: true, cell: ({ mayDo }) => mayDo.join('; ') },
  { key: 'made', header: 'Made', cell: ({ createdAt }) => <Minute at={createdAt} /> },
  {
    key: 'used',
    header: 'Used last',
    cell: ({ usedAt }) => (usedAt === undefined ? 'never' : <Minute at={usedAt} />),
  },
  {
    key: 'until',
    header: 'Works until',
    cell: ({ expiresAt, isOver }) => (
      <>
        <Minute at={expiresAt} />
        {isOver ? ' (over)' : ''}
      </>
    ),
  },
  {
    key: 'end',
    header: 'End',
    cell: ({ key, name }) => (
      <OneButtonForm action={revokeToken} className="gap-2">
        <input type="hidden" name="key" value={key} />
        <Button type="submit" variant="secondary">
          End it<span className="sr-only">: {name}</span>
        </Button>
      </OneButtonForm>
    ),
  },
];

/** What programs come in by, each with its end. */
export function TokenTable({ rows }: { rows: readonly TokenView[] }) {
  return (
    <DataTable
      caption={
        <>
          <ZoneNote />; the last use is written every five minutes.
        </>
      }
      columns={COLUMNS}
      rows={rows}
      rowKey={({ key }) => key}
      empty="You have made none."
    />
  );
}
