import { DemoMark } from '@/app/ui/DemoMark';
import { LinkButton } from '@/app/ui/LinkButton';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { wordsOfPage } from '@/app/ui/pageWords';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readHome } from '@/lib/registry/home/home';
import { stewardList } from '@/lib/registry/home/stewardList';
import { answerHref } from './home/answerHref';
import { LiveAnswers } from './home/LiveAnswers';
import { NextSteps } from './home/NextSteps';
import { RegistryState } from './home/RegistryState';
import { StartHere } from './home/StartHere';
import { StewardTasks } from './home/StewardTasks';
import { PublicRunTable } from './PublicRunTable';
import { ownUnitHref, type SearchParams } from './rankings/query';

export const metadata = pageMetadata('home', {
  ...wordsOfPage('home'),
  figure: { kind: 'answer', key: 'first' },
});
export const dynamic = 'force-dynamic';

export default async function HomePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const actor = await signedIn();
  const [view, tasks] = await Promise.all([readHome(registry(), actor), stewardList(registry(), actor)]);
  const display = await readerDisplay(params);
  const [first] = view.answers;
  return (
    <>
      <header className="mb-8">
        <h1 className="max-w-[46rem]">{wordsOfPage('home').title}</h1>
        <p className="mt-3 text-lg text-ink-soft">
          Same road, same true speed, one thing changed, checked by others.
        </p>
        <div className="no-print mt-5 flex flex-wrap gap-3">
          <LinkButton href={first === undefined ? '/models' : answerHref(first)} variant="primary">
            See what a change does
          </LinkButton>
          <LinkButton href="/record">Record a run</LinkButton>
        </div>
      </header>
      {view.world === 'demo' ? <DemoMark /> : null}
      <LiveAnswers answers={view.answers} display={display} />
      <StartHere view={view} />
      {tasks ? <StewardTasks list={tasks} /> : null}
      <NextSteps view={view} />
      {view.counts.approved > 0 ? (
        <>
          <RegistryState counts={view.counts} />
          <Section id="latest" title="Latest approved runs" wide>
            <UnitNote unit={display.consumption} ownHref={ownUnitHref('/', params, 'latest')} />
            <PublicRunTable caption="By the day they were driven" runs={view.latest} display={display} />
          </Section>
        </>
      ) : null}
    </>
  );
}
