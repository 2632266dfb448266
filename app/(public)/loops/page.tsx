import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readLoops } from '@/lib/registry/loops/loops';
import { showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';
import { hrefWith, one, type SearchParams } from '../rankings/query';

export const metadata = pageMetadata('loops');
export const dynamic = 'force-dynamic';

export default async function LoopsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const display = await readerDisplay(params);
  const text = one(params, 'q');
  const loops = await readLoops(registry(), { from: one(params, 'from'), text });
  // The strip over the page says it for all; a row says it where others are real.
  const isMixed = loops.rows.some((loop) => loop.world !== 'demo');
  return (
    <>
      <PageHeader
        title="Loops"
        meta={`${loops.total} ${loops.total === 1 ? 'loop' : 'loops'}`}
        lead="Fixed routes out and back on the same open road: a climb on one leg is a descent on the other, and a wind along the road nearly cancels."
      />
      {loops.rows.some((loop) => loop.world === 'demo') ? <DemoMark /> : null}
      <Filters action="/loops" label="Find a loop" resetHref="/loops">
        <TextField name="q" label="Name or region" defaultValue={text} maxLength={100} />
      </Filters>
      <DataTable
        caption="Loops by name"
        captionHidden
        rows={loops.rows}
        rowKey={(loop) => loop.slug}
        empty={text ? 'No loop matches this.' : 'No loop yet. A tester adds the first one.'}
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
                {loop.world === 'demo' && isMixed ? <DemoMark inline /> : null}
                <span className="block text-ink-soft">{loop.region}</span>
              </>
            ),
          },
          { key: 'turnaround', header: 'Turnaround', cell: (loop) => loop.turnaround },
          {
            key: 'length',
            header: 'Length',
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
      <KeysetPages
        {...loops}
        label="Pages of loops"
        hrefFor={(from) => hrefWith('/loops', params, { from })}
      />
    </>
  );
}
