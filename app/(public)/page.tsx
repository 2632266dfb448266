import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readHome } from '@/lib/registry/home/home';
import { NextSteps } from './NextSteps';
import { PublicRunTable } from './PublicRunTable';
import { RegistryState } from './RegistryState';
import { ownUnitHref, type SearchParams } from './rankings/query';
import { StartHere } from './StartHere';

export const metadata = pageMetadata('home');
export const dynamic = 'force-dynamic';

export default async function HomePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const view = await readHome(registry(), await signedIn());
  const display = await readerDisplay(params);
  return (
    <>
      <PageHeader
        title="The same road, the same speed, one thing changed"
        lead="Testers drive an electric car out and back on a fixed loop at one true speed, change one thing, and drive it again. Evenloop keeps those runs, brings each to reference conditions with its uncertainty, has somebody else vet it by a written protocol, and says what the change did to consumption, how sure that is, and when it cannot be told."
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <StartHere view={view} />
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
