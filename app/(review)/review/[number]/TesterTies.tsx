import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import type { Tie, TesterTies as Ties } from '@/lib/registry/review/testerTies';
import { RUN_STATUS_LABELS, RUN_STATUSES } from '@/lib/run/runStatus';

const KINDS = {
  pictures: 'Same picture as',
  reviewer: 'Decided by',
  car: 'Car',
  loop: 'Loop',
} as const;

/** The tester's account and runs in a sentence, what ties them to others as a drawing, and the same as a table. */
export function TesterTies({ ties: of }: { ties: Ties }) {
  const { name, accountDays, runs, ties } = of;
  const counts = RUN_STATUSES.flatMap((status) => {
    const count = runs.get(status) ?? 0;
    return count === 0 ? [] : [`${count} ${RUN_STATUS_LABELS[status].toLowerCase()}`];
  });
  return (
    <>
      <p className="mb-4 max-w-[38rem]">
        {name}’s account is {accountDays} {accountDays === 1 ? 'day' : 'days'} old. Runs:{' '}
        {counts.join(', ') || 'none'}.
      </p>
      {ties.length > 0 ? <Web name={name} ties={ties} /> : null}
      <DataTable
        caption="What this tester’s runs are tied to"
        rows={ties}
        rowKey={(tie) => `${tie.kind} ${tie.name}`}
        empty="Nothing yet."
        columns={[
          {
            key: 'name',
            header: 'Tied to',
            rowHeader: true,
            cell: (tie) =>
              tie.href ? (
                <Link className="link" href={tie.href}>
                  {tie.name}
                </Link>
              ) : (
                tie.name
              ),
          },
          { key: 'kind', header: 'As', cell: (tie) => KINDS[tie.kind] },
          {
            key: 'words',
            header: 'How',
            cell: (tie) => (
              <>
                {tie.words}
                {tie.isNotable ? (
                  <strong className="font-semibold text-caution"> · look closer</strong>
                ) : null}
              </>
            ),
          },
        ]}
      />
    </>
  );
}

const ROW = 26;
const WIDTH = 640;
const CENTRE = 200;
const RIGHT = 330;

/** The tester on the left, a line to each tie: the wider, the more runs; what wants a look is drawn in its colour. */
function Web({ name, ties }: { name: string; ties: readonly Tie[] }) {
  const height = ties.length * ROW + 12;
  const most = Math.max(...ties.map(({ weight }) => weight));
  const middle = height / 2;
  return (
    <div className="mb-4 overflow-x-auto">
      <svg
        role="img"
        aria-label={`${name} and what their runs are tied to; the table below says the same`}
        viewBox={`0 0 ${WIDTH} ${height}`}
        className="hidden w-full max-w-[44rem] sm:block"
        style={{ fontSize: 13 }}
      >
        {ties.map((tie, place) => {
          const y = 6 + ROW * (place + 0.5);
          return (
            <g key={`${tie.kind} ${tie.name}`} className={tie.isNotable ? 'text-caution' : 'text-ink-soft'}>
              <path
                d={`M${CENTRE} ${middle} C${CENTRE + 70} ${middle} ${RIGHT - 70} ${y} ${RIGHT} ${y}`}
                fill="none"
                stroke="currentColor"
                strokeWidth={1 + (5 * tie.weight) / most}
                strokeDasharray={tie.isNotable ? '6 3' : undefined}
                opacity={0.7}
              />
              <circle cx={RIGHT} cy={y} r={4} fill="currentColor" />
              <text x={RIGHT + 12} y={y + 4} fill="currentColor">
                {shortened(`${KINDS[tie.kind]} ${tie.name}`)}
              </text>
            </g>
          );
        })}
        <circle cx={CENTRE} cy={middle} r={7} className="text-accent" fill="currentColor" />
        <text x={CENTRE - 14} y={middle + 4} textAnchor="end" className="text-ink" fill="currentColor">
          {shortened(name, 26)}
        </text>
      </svg>
    </div>
  );
}

/** The table beside it has the whole name. */
function shortened(text: string, most = 42): string {
  return text.length <= most ? text : `${text.slice(0, most - 1)}…`;
}
