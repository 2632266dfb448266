import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { FreshNotice } from '@/app/account/FreshNotice';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import { type CuratedThing, curatedKind, readCurated } from '@/lib/registry/names/curation';
import { NotFound } from '@/lib/run/errors';
import { HideForm, RenameForm } from './Forms';
import { Levels } from './Levels';
import { Merging } from './Merging';

export const metadata: Metadata = { title: 'Rename, merge or hide' };
export const dynamic = 'force-dynamic';

export default async function CuratePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const kind = curatedKind(one(params, 'kind'));
  const slug = one(params, 'key') ?? '';
  const path = `/curate?${new URLSearchParams({ kind, key: slug })}`;
  const actor = await requireSignedIn(path);
  const thing = await orNoPage(forRole(readCurated(registry(), actor, { kind, slug })));
  return (
    <>
      <PageHeader
        title={`Rename, merge or hide a ${kind}`}
        lead={
          <>
            <Named thing={thing} /> No number of a run moves by any of it
            {kind === 'car' ? '.' : ', and every address that it had leads on.'}
          </>
        }
      />
      <FreshNotice back={path} />
      <Section id="rename" title="Rename" key={`rename ${thing.words}`}>
        <RenameForm thing={thing} />
      </Section>
      <Merging thing={thing} actor={actor} into={one(params, 'into') ?? ''} />
      {thing.levels.length > 0 ? (
        <Levels
          thing={thing}
          actor={actor}
          merging={{ level: one(params, 'level') ?? '', into: one(params, 'intoLevel') ?? '' }}
        />
      ) : null}
      <Section
        id="hide"
        title={thing.hiddenReason === null ? 'Hide' : 'List again'}
        note={
          kind === 'car'
            ? 'Hidden, it cannot be chosen for a run; its owner reads why, and its runs go on counting.'
            : 'Hidden, it is in no list and cannot be chosen; its page stays and says why.'
        }
      >
        {thing.hiddenReason === null ? null : <p className="mb-3">Hidden: {thing.hiddenReason}</p>}
        <HideForm kind={kind} of={thing.slug} words={thing.words} isHidden={thing.hiddenReason !== null} />
      </Section>
    </>
  );
}

function Named({ thing: { kind, slug, words, owner } }: { thing: CuratedThing }) {
  if (owner !== undefined)
    return (
      <>
        {words}, a car of{' '}
        <Link className="link" href={`/testers/${owner.slug}`}>
          {owner.displayName}
        </Link>
        .
      </>
    );
  return (
    <>
      <Link className="link" href={`/${kind}s/${slug}`}>
        {words}
      </Link>
      .
    </>
  );
}

async function orNoPage<View>(reading: Promise<View>): Promise<View> {
  try {
    return await reading;
  } catch (error) {
    if (error instanceof NotFound) notFound();
    throw error;
  }
}
