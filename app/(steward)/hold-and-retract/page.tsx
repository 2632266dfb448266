import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { FreshNotice } from '@/app/account/FreshNotice';
import { buttonClass } from '@/app/ui/buttonClass';
import { Filters } from '@/app/ui/Filters';
import { CheckField } from '@/app/ui/forms/CheckField';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { previewManyRuns, readManyRuns } from '@/lib/registry/review/manyRuns';
import { MANY_ACTS } from '@/lib/run/manyActs';
import { ManyTable } from './ManyTable';
import { Preview } from './Preview';
import { ACT_WORDS, runsText } from './words';

export const metadata: Metadata = { title: 'Hold or retract runs' };
export const dynamic = 'force-dynamic';

const PATH = '/hold-and-retract';
const KEPT = ['tester', 'cluster', 'car', 'loop', 'setup', 'since', 'until', 'reported'] as const;

export default async function ManyRunsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const actor = await requireSignedIn(PATH);
  const act = MANY_ACTS.find((key) => key === one(params, 'act')) ?? 'hold';
  const numbers = numbersIn(params.run);
  const listHref = hrefWith(PATH, params, { run: undefined });
  const head = (
    <>
      <PageHeader
        title="Hold or retract runs"
        lead="Many runs at once, with one reason. What would change is shown before it is done; each run’s own trail says it, and its tester is told."
      />
      <FreshNotice back={listHref} />
    </>
  );
  if (numbers.length > 0)
    return (
      <>
        {head}
        <Preview
          act={act}
          preview={await forRole(previewManyRuns(registry(), actor, { act, numbers }))}
          backHref={listHref}
        />
      </>
    );
  const view = await forRole(
    readManyRuns(registry(), actor, {
      act,
      tester: one(params, 'tester'),
      withCluster: one(params, 'cluster') === 'yes',
      carOfRun: numbersIn(params.car)[0],
      loop: one(params, 'loop'),
      setup: one(params, 'setup'),
      fromDay: one(params, 'since'),
      toDay: one(params, 'until'),
      onlyReported: one(params, 'reported') === 'yes',
      from: one(params, 'from'),
    }),
  );
  const field = (name: (typeof KEPT)[number]) => ({ name, defaultValue: one(params, name) ?? '' });
  return (
    <>
      {head}
      <LinkTabs
        label="What is done"
        tabs={MANY_ACTS.map((key) => ({
          href: hrefWith(PATH, params, { act: key, from: undefined }),
          label: ACT_WORDS[key].title,
          current: key === act,
        }))}
      />
      <Filters action={PATH} label="Find runs" hidden={{ act }} resetHref={`${PATH}?act=${act}`}>
        <TextField {...field('tester')} label="Tester" hint="Name or page’s address" maxLength={200} />
        <CheckField
          name="cluster"
          label="And all who count as one with them"
          hint="By cars, photos, recordings or a reviewer in common"
          defaultChecked={one(params, 'cluster') === 'yes'}
        />
        <TextField
          {...field('car')}
          label="With the car of run"
          hint="A run’s number"
          inputMode="numeric"
          maxLength={9}
        />
        <TextField {...field('loop')} label="Loop" hint="Its page’s address" maxLength={200} />
        <TextField {...field('setup')} label="Setup" hint="Its page’s address" maxLength={200} />
        <TextField {...field('since')} label="From the day" type="date" />
        <TextField {...field('until')} label="To the day" type="date" />
        <CheckField
          name="reported"
          label="Only with an open report"
          defaultChecked={one(params, 'reported') === 'yes'}
        />
      </Filters>
      <Section id="runs" title={foundText(view.total, view.testers)} wide>
        {view.rows.length > 0 ? (
          <p className="mb-3 text-sm">
            <Link
              className="link"
              href={hrefWith(PATH, params, { all: one(params, 'all') ? undefined : 'yes' })}
            >
              {one(params, 'all') ? 'Choose none of this page' : 'Choose all of this page'}
            </Link>
          </p>
        ) : null}
        <form action={PATH} method="get" aria-label="Choose runs" key={one(params, 'all') ?? 'none'}>
          <input type="hidden" name="act" value={act} />
          {KEPT.map((name) => {
            const value = one(params, name);
            return value === undefined ? null : <input key={name} type="hidden" name={name} value={value} />;
          })}
          <ManyTable
            caption="Runs to choose from"
            rows={view.rows}
            ticked={() => one(params, 'all') === 'yes'}
          />
          {view.rows.length > 0 ? (
            <button type="submit" className={`${buttonClass('primary')} mt-4`}>
              See what would change
            </button>
          ) : null}
        </form>
        <KeysetPages {...view} label="Pages of runs" hrefFor={(from) => hrefWith(PATH, params, { from })} />
      </Section>
    </>
  );
}

function foundText(total: number, testers: number | undefined): string {
  if (testers === 0) return 'No tester of this name';
  const found = runsText(total);
  return testers === undefined || testers === 1 ? found : `${found} of ${testers} testers`;
}

function numbersIn(value: string | string[] | undefined): number[] {
  const texts = value === undefined ? [] : [value].flat();
  return [...new Set(texts.filter((text) => /^\d{1,9}$/.test(text)).map(Number))];
}
