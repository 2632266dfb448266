import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { FreshNotice } from '@/app/account/FreshNotice';
import { DataTable } from '@/app/ui/DataTable';
import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { previewLoopMerge } from '@/lib/registry/loops/mergeLoops';
import { type CuratedThing, readCurated } from '@/lib/registry/names/curation';
import { NotFound } from '@/lib/run/errors';
import { HideForm, RenameForm, RenameLevelForm } from './Forms';
import { MergeLoop } from './MergeLoop';

export const metadata: Metadata = { title: 'Rename, merge or hide' };
export const dynamic = 'force-dynamic';

type Actor = Awaited<ReturnType<typeof requireSignedIn>>;

export default async function CuratePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const kind = one(params, 'kind') === 'model' ? 'model' : 'loop';
  const slug = one(params, 'key') ?? '';
  const path = `/curate?${new URLSearchParams({ kind, key: slug })}`;
  const actor = await requireSignedIn(path);
  const thing = await orNoPage(forRole(readCurated(registry(), actor, { kind, slug })));
  return (
    <>
      <PageHeader
        title={kind === 'loop' ? 'Rename, merge or hide a loop' : 'Rename or hide a model'}
        lead={
          <>
            <Link className="link" href={`/${kind}s/${thing.slug}`}>
              {thing.words}
            </Link>
            . No number of a run moves by any of it, and every address that it had leads on.
          </>
        }
      />
      <FreshNotice back={path} />
      <Section id="rename" title="Rename" key={`rename ${thing.words}`}>
        <RenameForm thing={thing} />
      </Section>
      {kind === 'loop' ? <Merging thing={thing} actor={actor} into={one(params, 'into')} /> : null}
      {thing.levels.length > 0 ? <Levels thing={thing} /> : null}
      <Section
        id="hide"
        title={thing.hiddenReason === null ? 'Hide' : 'List again'}
        note="Hidden, it is in no list and cannot be chosen; its page stays and says why."
      >
        {thing.hiddenReason === null ? null : <p className="mb-3">Hidden: {thing.hiddenReason}</p>}
        <HideForm kind={kind} of={thing.slug} words={thing.words} isHidden={thing.hiddenReason !== null} />
      </Section>
    </>
  );
}

function Levels({ thing }: { thing: CuratedThing }) {
  return (
    <Section
      id="levels"
      title="Its levels"
      note="A new name stands in the titles of all its setups. What a level is, and what it is mapped to, stays."
      wide
    >
      <DataTable
        caption="Levels"
        captionHidden
        rows={thing.levels}
        rowKey={({ id }) => id}
        columns={[
          { key: 'factor', header: 'Factor', cell: ({ factor }) => factor },
          {
            key: 'level',
            header: 'Level',
            rowHeader: true,
            cell: ({ label, isDelivered, hiddenReason }) =>
              `${label}${isDelivered ? ' (as delivered)' : ''}${hiddenReason === null ? '' : ' (hidden)'}`,
          },
          {
            key: 'rename',
            header: 'Rename',
            cell: ({ id, label }) => (
              <details>
                <summary className="link inline-flex min-h-9 cursor-pointer items-center">
                  Rename<span className="sr-only"> {label}</span>
                </summary>
                <RenameLevelForm key={label} id={id} label={label} />
              </details>
            ),
          },
          {
            key: 'hide',
            header: 'Hide',
            cell: ({ id, label, isDelivered, hiddenReason }) =>
              isDelivered ? (
                'stays'
              ) : (
                <details>
                  <summary className="link inline-flex min-h-9 cursor-pointer items-center">
                    {hiddenReason === null ? 'Hide' : 'List again'}
                    <span className="sr-only"> {label}</span>
                  </summary>
                  <HideForm kind="level" of={id} words={label} isHidden={hiddenReason !== null} />
                </details>
              ),
          },
        ]}
      />
    </Section>
  );
}

async function Merging({
  thing,
  actor,
  into,
}: {
  thing: CuratedThing;
  actor: Actor;
  into: string | undefined;
}) {
  const intoSlug = (into?.split(/[?#]/)[0] ?? '').replace(/\/+$/, '').split('/').at(-1)?.trim() ?? '';
  return (
    <Section
      id="merge"
      title="Merge into another loop"
      note="Where one road is here twice. What would move is shown before it is done."
    >
      <Filters
        action="/curate"
        label="The loop that stays"
        submitText="See what would move"
        hidden={{ kind: 'loop', key: thing.slug }}
      >
        <TextField name="into" label="Its page’s address" defaultValue={intoSlug} maxLength={200} />
      </Filters>
      {intoSlug === '' ? null : await preview(thing.slug, intoSlug, actor)}
    </Section>
  );
}

async function preview(slug: string, intoSlug: string, actor: Actor) {
  try {
    return <MergeLoop preview={await previewLoopMerge(registry(), actor, { slug, intoSlug })} />;
  } catch (error) {
    if (!(error instanceof NotFound)) throw error;
    return <Notice kind="caution" title="There is no loop at this address, or it was merged before." />;
  }
}

async function orNoPage<View>(reading: Promise<View>): Promise<View> {
  try {
    return await reading;
  } catch (error) {
    if (error instanceof NotFound) notFound();
    throw error;
  }
}
