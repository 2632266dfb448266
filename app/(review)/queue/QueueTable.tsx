import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { Link } from '@/app/ui/Link';
import { Outcome } from '@/app/ui/Outcome';
import { StatusTag } from '@/app/ui/StatusTag';
import { Day } from '@/app/ui/When';
import type { QueueRow } from '@/lib/registry/review/queue';

/** One waiting run a row: how long, what the rules found, who has it. */
export function QueueTable({ rows }: { rows: readonly QueueRow[] }) {
  return (
    <DataTable
      caption="Runs that wait for review, oldest first"
      captionHidden
      rows={rows}
      rowKey={(row) => String(row.number)}
      empty="Nothing waits here."
      columns={[
        {
          key: 'run',
          header: 'Run',
          rowHeader: true,
          cell: (row) => (
            <>
              <Link
                className="link num"
                href={row.isReviewable ? `/review/${row.number}` : `/runs/${row.number}`}
              >
                Run {row.number}
              </Link>
              {row.revision > 1 ? <span className="num block">revision {row.revision}</span> : null}
              {row.awaitsSecond ? <span className="block">waits for a second approval</span> : null}
              {row.isAppealed ? <span className="block">appealed: rejected once</span> : null}
              {row.world === 'demo' ? (
                <span className="block">
                  <DemoMark inline />
                </span>
              ) : null}
            </>
          ),
        },
        {
          key: 'age',
          header: 'Waiting',
          align: 'end',
          cell: (row) => <time dateTime={row.submittedAt}>{ageText(row.ageHours)}</time>,
        },
        {
          key: 'findings',
          header: 'Rules',
          cell: (row) => (
            <span className="flex flex-col">
              {row.fails > 0 ? <Outcome outcome="fail" label={counted(row.fails, 'fail')} /> : null}
              {row.cautions > 0 ? (
                <Outcome outcome="caution" label={counted(row.cautions, 'caution')} />
              ) : null}
              {row.fails + row.cautions === 0 ? <Outcome outcome="pass" label="none broken" /> : null}
            </span>
          ),
        },
        {
          key: 'claim',
          header: 'Claim',
          cell: (row) => <Claim row={row} />,
        },
        {
          key: 'setup',
          header: 'Setup',
          wide: true,
          cell: (row) => (
            <>
              {row.setup}
              <span className="block text-ink-soft">{row.model}</span>
            </>
          ),
        },
        {
          key: 'where',
          header: 'Loop, class, day',
          cell: (row) => (
            <>
              {row.loop}
              <span className="num block text-ink-soft">{row.classLabel}</span>
              <span className="block text-ink-soft">
                <Day of={row.localDate} />
              </span>
            </>
          ),
        },
        { key: 'tester', header: 'Tester', cell: (row) => row.tester.displayName },
      ]}
    />
  );
}

const KEPT_OUT = {
  own: 'Your own',
  ownStudy: 'Of a study that you drive in',
  decidedBefore: 'You decided on it before',
  interest: 'You declared an interest',
} as const;

function Claim({ row }: { row: QueueRow }) {
  if (row.keptOut)
    return <span className="text-ink-soft">{KEPT_OUT[row.keptOut]}: another reviewer decides</span>;
  if (row.claim === null) return 'Free';
  return <StatusTag state="claimed" label={row.claim.isMine ? 'Yours' : `With ${row.claim.by}`} />;
}

function counted(count: number, word: string): string {
  return `${count} ${count === 1 ? word : `${word}s`}`;
}

/** Whole days from two on, hours before. */
export function ageText(hours: number): string {
  if (hours >= 48) return `${Math.floor(hours / 24)} days`;
  return hours < 1 ? 'under 1 h' : `${Math.floor(hours)} h`;
}
