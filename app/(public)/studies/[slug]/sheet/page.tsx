import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readStudy } from '@/lib/registry/studies/study';
import { dayWords } from '@/lib/run/localDate';
import { dayOfSession, letterOf } from '@/lib/study/plan';
import { showQuantity } from '@/lib/units/show';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Sheet of a study', robots: { index: false } };

const BLANKS = ['Start', 'Trip distance', 'Energy', 'Consumption shown', 'Time', 'Air', 'Wind', 'Notes'];

const BEFORE = [
  'Charged to the same level as before the other runs',
  'Cold tyre pressures within the placard, written down',
  'Climate, drive mode and load as in the plan',
  'Clocks of phone and car compared',
  'Warmed up for 10 km before the first run',
];

/** The order of each day with blanks to write in, one day a page: for where no phone is at hand. */
export default async function SheetPage({ params }: { params: Promise<{ slug: string }> }) {
  const { slug } = await params;
  const view = await readStudy(registry(), undefined, slug);
  if (view?.plan === undefined) notFound();
  const { plan } = view;
  const display = await readerDisplay();
  const titleOf = (id: string) => view.setups.find((setup) => setup.id === id)?.title ?? '';
  return (
    <>
      <PageHeader
        title={view.question}
        breadcrumbs={[
          { label: 'Studies', href: '/studies' },
          { label: 'Study', href: `/studies/${slug}` },
          { label: 'Sheet' },
        ]}
        meta={
          <span>
            {view.model.words}, {view.classLabel}, {view.loop.name} (
            {showQuantity(view.loop.lengthM, 'distance', display, { decimals: 1 })}). Print this page: each
            day takes one.
          </span>
        }
      />
      <SafetyCaution kind="plan" />
      {plan.days.map((order, at) => {
        const date = dayOfSession(plan, at);
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: the days of a plan are told apart by their place alone
          <section key={at} className="mt-8 break-before-page" aria-labelledby={`day-${at + 1}`}>
            <h2 id={`day-${at + 1}`}>
              Day {at + 1} of {plan.days.length}
              {date === null ? '' : `, ${dayWords(date)}`}
            </h2>
            <ul className="my-3 text-sm">
              {BEFORE.map((line) => (
                <li key={line}>☐ {line}</li>
              ))}
            </ul>
            {order.map((id, place) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a setup stands in an order more than once
              <div key={place} className="mt-3 break-inside-avoid border border-rule-strong p-3">
                <h3>
                  {place + 1}. {letterOf(plan, id)}: {titleOf(id)}
                </h3>
                <dl className="mt-2 grid grid-cols-2 gap-x-6 gap-y-4 text-sm sm:grid-cols-4">
                  {BLANKS.map((blank) => (
                    <div key={blank} className="border-b border-rule-strong pb-6">
                      <dt className="text-ink-soft">{blank}</dt>
                      <dd className="sr-only">to be filled in</dd>
                    </div>
                  ))}
                </dl>
              </div>
            ))}
          </section>
        );
      })}
    </>
  );
}
