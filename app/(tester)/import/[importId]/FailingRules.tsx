import { DataTable } from '@/app/ui/DataTable';
import type { JudgedRows } from '@/lib/capture/sheet/importReport';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';

/** The rules that fail in this sheet, most rows first: what is the same for a whole file is mended once. */
export function FailingRules({ judged, rows }: { judged: JudgedRows; rows: number }) {
  if (judged.judged === 0) return null;
  const of = judged.judged < rows ? `the first ${judged.judged} rows` : `${judged.judged} rows`;
  if (judged.failing === 0) return <p className="mb-4 text-sm">No rule fails in {of}.</p>;
  return (
    <div className="mb-6">
      <DataTable
        caption={`Rules that fail, in ${of}`}
        rows={judged.rules}
        rowKey={({ ruleId }) => ruleId}
        columns={[
          {
            key: 'rule',
            header: 'Rule',
            rowHeader: true,
            cell: ({ ruleId }) => wordsOfRule(ruleId).title,
          },
          { key: 'rows', header: 'Rows', align: 'end', cell: (rule) => rule.rows },
          {
            key: 'mend',
            header: 'What helps',
            wide: true,
            cell: ({ ruleId }) => wordsOfRule(ruleId).guidance,
          },
        ]}
      />
      <p className="mt-2 max-w-[46rem] text-sm text-ink-soft">
        Each row is held against the runs that are there already, not against the other rows of the sheet;
        that is done when it is sent.
      </p>
    </div>
  );
}
