import type { ReactNode } from 'react';
import { Link } from '@/app/ui/Link';
import { Outcome } from '@/app/ui/Outcome';
import { Section } from '@/app/ui/Section';
import type { StewardList, StewardTask } from '@/lib/registry/home/stewardList';

const TASKS: Record<StewardTask, { title: string; how: ReactNode }> = {
  reviewers: {
    title: 'A second reviewer',
    how: (
      <>
        Nobody reviews a run of their own, and some runs need two reviewers: give the role to one more person{' '}
        <Link className="link" href="/people">
          on the page of people
        </Link>
        .
      </>
    ),
  },
  mail: {
    title: 'Mail',
    how: (
      <>
        Set <code>EVENLOOP_SMTP_URL</code> and <code>EVENLOOP_MAIL_FROM</code>. Until then{' '}
        <Link className="link" href="/letters">
          letters wait
        </Link>{' '}
        on the server, and somebody has to hand on each new password.
      </>
    ),
  },
  backup: {
    title: 'A backup',
    how: (
      <>
        Run <code>npm run backup -- FILE</code> in the folder of the installation, and keep the file on
        another machine. Best by a timer, each day.
      </>
    ),
  },
  demo: {
    title: 'A look around',
    how: (
      <>
        <code>npm run seed:demo</code> adds an invented world of about four hundred runs, marked wherever it
        shows and never mixed with the record. Or go straight to{' '}
        <Link className="link" href="/record/first">
          the first run
        </Link>
        .
      </>
    ),
  },
};

/** What a new registry still needs of its steward. It is gone when all is done. */
export function StewardTasks({ list }: { list: StewardList }) {
  const open = list.filter(({ isDone }) => !isDone).length;
  return (
    <Section
      id="steward"
      title="For you as steward"
      note={`${list.length - open} of ${list.length} done. This list goes away when all of it is.`}
    >
      <ul className="max-w-[46rem] space-y-4">
        {list.map(({ task, isDone }) => (
          <li key={task}>
            <p className="flex flex-wrap items-baseline gap-x-3">
              <span className="font-semibold">{TASKS[task].title}</span>
              <Outcome outcome={isDone ? 'pass' : 'notChecked'} label={isDone ? 'done' : 'to do'} />
            </p>
            {isDone ? null : <p className="text-sm">{TASKS[task].how}</p>}
          </li>
        ))}
      </ul>
    </Section>
  );
}
