import { NewerOlder } from '@/app/ui/NewerOlder';
import type { PublicRunPage } from '@/lib/registry/runs/publicRuns';
import type { UnitCode } from '@/lib/units/unit';
import { PublicRunTable } from './PublicRunTable';
import { hrefWith, type SearchParams } from './rankings/query';

interface RunPagesProps {
  /** Of the whole list, as "approved runs of Skerry". */
  what: string;
  page: PublicRunPage;
  /** Address of the page and of the section that the list stands in. */
  path: string;
  query: SearchParams;
  sectionId: string;
  unit: UnitCode;
  without?: readonly ('model' | 'setup' | 'loop' | 'tester')[];
}

/** A page of a list of runs; the links keep whatever else the address says. */
export function RunPages({ what, page, path, query, sectionId, unit, without }: RunPagesProps) {
  const hrefAt = (changes: { before?: string; after?: string }) =>
    `${hrefWith(path, query, { before: undefined, after: undefined, ...changes })}#${sectionId}`;
  const { runs, total, newer, older } = page;
  const some = newer === undefined && older !== undefined ? `The latest ${runs.length}` : `${runs.length}`;
  return (
    <>
      <PublicRunTable
        caption={`${runs.length === total ? total : `${some} of ${total}`} ${what}`}
        runs={runs}
        unit={unit}
        without={without}
      />
      <NewerOlder
        label={`Pages of ${what}`}
        newerHref={newer === undefined ? undefined : hrefAt({ after: newer })}
        olderHref={older === undefined ? undefined : hrefAt({ before: older })}
      />
    </>
  );
}
