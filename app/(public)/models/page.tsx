import Link from 'next/link';
import { DataTable } from '@/app/ui/DataTable';
import { DemoMark } from '@/app/ui/DemoMark';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { registry } from '@/app/visitor/registry';
import { readModels } from '@/lib/registry/models/models';
import { bodyLabel } from '@/lib/run/bodyClass';

export const metadata = pageMetadata('models');
export const dynamic = 'force-dynamic';

export default async function ModelsPage() {
  const models = await readModels(registry());
  const hasDemo = models.some((model) => model.world === 'demo');
  return (
    <>
      <PageHeader
        title="Models"
        lead="Maker, model, year and variant: what a data sheet describes. Each has setups, and setups have runs."
      />
      {hasDemo ? <DemoMark /> : null}
      <DataTable
        caption="Models by maker"
        captionHidden
        rows={models}
        rowKey={(model) => model.slug}
        empty="No model yet. A tester adds one with the first car of it."
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
                {model.world === 'demo' ? <DemoMark inline /> : null}
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
    </>
  );
}
