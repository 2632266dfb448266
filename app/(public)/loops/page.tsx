import Link from 'next/link';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readLoops } from '@/lib/registry/loops/loops';
import { showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';
import type { SearchParams } from '../rankings/query';

export const metadata = pageMetadata('loops');
export const dynamic = 'force-dynamic';

export default async function LoopsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const display = await readerDisplay(await searchParams);
  const loops = await readLoops(registry());
  return (
    <>
      <PageHeader
        title="Loops"
        lead="Fixed routes out and back on the same open road, so that climb and, to first order, wind take back on one leg what they gave on the other."
      />
      {loops.some((loop) => loop.world === 'demo') ? <DemoMark /> : null}
      <DataTable
        caption="Loops by name"
        captionHidden
        rows={loops}
        rowKey={(loop) => loop.slug}
        empty="No loop yet. A tester adds the first one."
        columns={[
          {
            key: 'loop',
            header: 'Loop',
            rowHeader: true,
            cell: (loop) => (
              <>
                <Link className="link" href={`/loops/${loop.slug}`}>
                  {loop.name}
                </Link>{' '}
                {loop.world === 'demo' ? <DemoMark inline /> : null}
                <span className="block text-ink-soft">{loop.region}</span>
              </>
            ),
          },
          { key: 'turnaround', header: 'Turnaround', cell: (loop) => loop.turnaround },
          {
            key: 'length',
            header: 'Length ± u',
            align: 'end',
            cell: (loop) =>
              loop.lengthUncertaintyM > 0
                ? showWithUncertainty(loop.lengthM, loop.lengthUncertaintyM, 'distance', display)
                : showQuantity(loop.lengthM, 'distance', display, { decimals: 2 }),
          },
          {
            key: 'altitude',
            header: 'Altitude',
            align: 'end',
            cell: (loop) => showQuantity(loop.altitudeM, 'height', display, { decimals: 0 }),
          },
          {
            key: 'limit',
            header: 'Posted limit',
            align: 'end',
            cell: (loop) => showQuantity(loop.postedLimitMps, 'speed', display, { decimals: 0 }),
          },
          {
            key: 'off',
            header: 'Off cruise',
            unit: '% of the way',
            align: 'end',
            cell: (loop) => showNumber(100 * loop.offCruiseShare, 1, display),
          },
          { key: 'runs', header: 'Approved runs', align: 'end', cell: (loop) => loop.approvedRuns },
        ]}
      />
    </>
  );
}
