import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { registry } from '@/app/visitor/registry';
import { readModels } from '@/lib/registry/models/models';
import { bodyLabel } from '@/lib/run/bodyClass';
import { hrefWith, one, type SearchParams } from '../rankings/query';

export const metadata = pageMetadata('models');
export const dynamic = 'force-dynamic';

export default async function ModelsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const text = one(params, 'q');
  const models = await readModels(registry(), { from: one(params, 'from'), text });
  const hasDemo = models.rows.some((model) => model.world === 'demo');
  // The strip over the page says it for all; a row says it where others are real.
  const isMixed = models.rows.some((model) => model.world !== 'demo');
  return (
    <>
      <PageHeader
        title="Models"
        meta={`${models.total} ${models.total === 1 ? 'model' : 'models'}`}
        lead="A model is what a data sheet describes. Each was driven in one setup or more, and every setup has its runs."
      />
      {hasDemo ? <DemoMark /> : null}
      <Filters action="/models" label="Find a model" resetHref="/models">
        <TextField name="q" label="Maker, model or variant" defaultValue={text} maxLength={100} />
      </Filters>
      <DataTable
        caption="Models by maker"
        captionHidden
        rows={models.rows}
        rowKey={(model) => model.slug}
        empty={text ? 'No model matches this.' : 'No model yet. A tester adds one with the first car of it.'}
        columns={[
          {
            key: 'model',
            header: 'Model',
            rowHeader: true,
            cell: (model) => (
              <>
                <Link className="link" href={`/models/${model.slug}`}>
                  {model.maker} {model.name}
                </Link>{' '}
                {model.world === 'demo' && isMixed ? <DemoMark inline /> : null}
              </>
            ),
          },
          { key: 'year', header: 'Year', align: 'end', cell: (model) => model.modelYear },
          { key: 'variant', header: 'Variant', cell: (model) => model.variant },
          { key: 'body', header: 'Body', cell: (model) => bodyLabel(model.bodyClass) },
          { key: 'setups', header: 'Setups', align: 'end', cell: (model) => model.setups },
          { key: 'cars', header: 'Cars', align: 'end', cell: (model) => model.cars },
          { key: 'runs', header: 'Approved runs', align: 'end', cell: (model) => model.approvedRuns },
        ]}
      />
      <KeysetPages
        {...models}
        label="Pages of models"
        hrefFor={(from) => hrefWith('/models', params, { from })}
      />
    </>
  );
}
