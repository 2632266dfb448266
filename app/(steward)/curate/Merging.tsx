import { Filters } from '@/app/ui/Filters';
import { TextField } from '@/app/ui/forms/TextField';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { Section } from '@/app/ui/Section';
import type { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import type { CuratedThing } from '@/lib/registry/names/curation';
import { NotFound } from '@/lib/run/errors';
import { MergePart } from './MergePart';
import { MERGES, type MergedKind } from './merges';

export type Actor = Awaited<ReturnType<typeof requireSignedIn>>;

const WORDS = {
  loop: { note: 'Where one road is here twice.', stays: 'The loop that stays', field: 'Its page’s address' },
  model: {
    note: 'Where one model is here twice.',
    stays: 'The model that stays',
    field: 'Its page’s address',
  },
  car: {
    note: 'Where one vehicle is here twice, as when it was sold and drives on with another tester.',
    stays: 'The car that stays',
    field: 'Number of a run with it',
  },
} as const;

/** Where the other one is asked for, and what would move. */
export async function Merging({ thing, actor, into }: { thing: CuratedThing; actor: Actor; into: string }) {
  const { kind } = thing;
  const { note, stays, field } = WORDS[kind];
  const intoKey = keyIn(into);
  return (
    <Section
      id="merge"
      title={`Merge into another ${kind}`}
      note={`${note} What would move is shown before it is done.`}
    >
      {thing.beside === undefined || thing.beside.length === 0 ? null : (
        <p className="mb-3">
          Others of the same tester and model:{' '}
          {thing.beside.map(({ id, name, runs }, index) => (
            <span key={id}>
              {index > 0 ? ', ' : ''}
              <Link className="link" href={hrefOf(thing, id)}>
                {name}
              </Link>{' '}
              ({runs} {runs === 1 ? 'run' : 'runs'})
            </span>
          ))}
          .
        </p>
      )}
      <Filters
        action="/curate"
        label={stays}
        submitText="See what would move"
        hidden={{ kind, key: thing.slug }}
      >
        <TextField name="into" label={field} defaultValue={kind === 'car' ? '' : intoKey} maxLength={200} />
      </Filters>
      {intoKey === '' ? null : <Preview kind={kind} of={thing.slug} into={intoKey} actor={actor} />}
    </Section>
  );
}

const hrefOf = ({ kind, slug }: CuratedThing, into: string) =>
  `/curate?${new URLSearchParams({ kind, key: slug, into })}#merge`;

/** Of an address that was copied as a whole, its last part. */
const keyIn = (into: string) =>
  (into.split(/[?#]/)[0] ?? '').replace(/\/+$/, '').split('/').at(-1)?.replace(/^#/, '').trim() ?? '';

interface PreviewProps {
  kind: MergedKind;
  of: string;
  into: string;
  actor: Actor;
}

export async function Preview({ kind, of: key, into: intoKey, actor }: PreviewProps) {
  const found = await orNothing(MERGES[kind].preview(registry(), actor, { key, intoKey }));
  if (found === undefined)
    return <Notice kind="caution" title={`There is no such ${kind}, or it was merged before.`} />;
  return <MergePart kind={kind} preview={found} />;
}

async function orNothing<View>(reading: Promise<View>): Promise<View | undefined> {
  try {
    return await reading;
  } catch (error) {
    if (error instanceof NotFound) return undefined;
    throw error;
  }
}
