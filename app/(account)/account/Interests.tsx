import { Button } from '@/app/ui/Button';
import { DataTable } from '@/app/ui/DataTable';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { Minute } from '@/app/ui/When';
import type { InterestRow } from '@/lib/registry/review/interests';
import { InterestForm } from './InterestForm';
import { endInterestOf } from './interestActions';

const KINDS = {
  account: 'Runs of this account',
  maker: 'Cars of this maker',
  model: 'Cars of this model',
} as const;

/** What a reviewer keeps out of, and the form for one more. */
export function Interests({ rows }: { rows: readonly InterestRow[] }) {
  return (
    <>
      <DataTable
        caption="Declared interests"
        captionHidden
        rows={rows}
        rowKey={({ id }) => id}
        empty="You have declared none."
        columns={[
          { key: 'words', header: 'Interest in', rowHeader: true, cell: ({ words }) => words },
          { key: 'kind', header: 'You keep out of', cell: ({ kind }) => KINDS[kind] },
          { key: 'since', header: 'Since', cell: ({ since }) => <Minute at={since} /> },
          {
            key: 'end',
            header: 'End',
            cell: ({ id, words }) => (
              <OneButtonForm action={endInterestOf} className="gap-2">
                <input type="hidden" name="id" value={id} />
                <Button type="submit" variant="secondary">
                  End it<span className="sr-only">: {words}</span>
                </Button>
              </OneButtonForm>
            ),
          },
        ]}
      />
      <div className="mt-6">
        <InterestForm />
      </div>
    </>
  );
}
