import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { methodPage } from '@/lib/registry/method/methodPage';
import type { SearchParams } from '../rankings/query';
import { Estimate } from './Estimate';
import { Learned } from './Learned';
import { Limitations } from './Limitations';
import { Priors } from './Priors';
import { References } from './References';
import { Statistics } from './Statistics';
import { Studies } from './Studies';
import { ToReference } from './ToReference';
import { Versions } from './Versions';

export const metadata = pageMetadata('method');
export const dynamic = 'force-dynamic';

const SECTIONS: readonly (readonly [id: string, title: string])[] = [
  ['measured', 'What is measured'],
  ['model', 'The model'],
  ['reference', 'Reference conditions'],
  ['steps', 'The steps'],
  ['uncertainty', 'Uncertainty'],
  ['statistics', 'From runs to rankings'],
  ['studies', 'Studies'],
  ['estimate', 'What would mine do'],
  ['learned', 'Learned road loads'],
  ['versions', 'Method versions'],
  ['limitations', 'Limitations'],
  ['priors', 'Assumptions'],
  ['references', 'References'],
];

export default async function MethodPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const display = await readerDisplay(await searchParams);
  const view = await methodPage(registry());
  return (
    <>
      <PageHeader
        title="Method"
        lead="How readings on a display become a number that may be compared with another day’s, how sure it is, and how many such numbers become an estimate, a difference and a rank."
        meta={`Method version ${view.methodVersion}. Every result names the version it was made by.`}
      />
      <nav aria-label="Sections" className="no-print mb-8">
        <ul className="flex flex-wrap gap-x-4 gap-y-1 text-sm">
          {SECTIONS.map(([id, title]) => (
            <li key={id}>
              <a className="link inline-flex min-h-8 items-center" href={`#${id}`}>
                {title}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <ToReference display={display} view={view} />
      <Statistics display={display} view={view} />
      <Studies display={display} />
      <Estimate view={view} display={display} />
      <Learned />
      <Versions display={display} view={view} />
      <Limitations display={display} view={view} />
      <Priors display={display} view={view} />
      <References />
    </>
  );
}
