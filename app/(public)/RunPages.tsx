import { KeysetPages } from '@/app/ui/KeysetPages';
import type { PublicRunPage } from '@/lib/registry/runs/publicRuns';
import type { Display } from '@/lib/units/display';
import { PublicRunTable } from './PublicRunTable';
import { hrefWith, type SearchParams } from './rankings/query';

interface RunPagesProps {
  /** Whose approved runs, as "of Skerry at 90 km/h"; where the page says it, nothing. */
  of?: string;
  page: PublicRunPage;
  /** Address of the page and of the section that the list stands in. */
  path: string;
  query: SearchParams;
  sectionId: string;
  display: Display;
  without?: readonly ('model' | 'setup' | 'loop' | 'tester')[];
}

/** A page of a list of runs; the links keep whatever else the address says. */
export function RunPages({ of, page, path, query, sectionId, display, without }: RunPagesProps) {
  const { rows, total, previous, next } = page;
  const some = previous === undefined && next !== undefined ? `The latest ${rows.length}` : `${rows.length}`;
  const what = ['approved', total === 1 ? 'run' : 'runs', ...(of === undefined ? [] : [of])].join(' ');
  return (
    <>
      <PublicRunTable
        caption={`${rows.length === total ? total : `${some} of ${total}`} ${what}`}
        runs={rows}
        display={display}
        without={without}
      />
      <KeysetPages
        previous={previous}
        next={next}
        label={`Pages of ${what}`}
        hrefFor={(from) => `${hrefWith(path, query, { from })}#${sectionId}`}
      />
    </>
  );
}
