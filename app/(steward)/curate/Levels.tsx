import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { CuratedThing } from '@/lib/registry/names/curation';
import { HideForm, RenameLevelForm } from './Forms';
import { type Actor, Preview } from './Merging';

type Level = CuratedThing['levels'][number];

interface LevelsProps {
  thing: CuratedThing;
  actor: Actor;
  /** The level that would go, and the one that would stay. */
  merging: { level: string; into: string };
}

/** The levels of a model, each to be renamed, merged into another of its factor or hidden. */
export function Levels({ thing, actor, merging }: LevelsProps) {
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
              <Folded summary="Rename" label={label}>
                <RenameLevelForm key={label} id={id} label={label} />
              </Folded>
            ),
          },
          { key: 'merge', header: 'Merge', cell: (level) => <MergeLinks thing={thing} level={level} /> },
          {
            key: 'hide',
            header: 'Hide',
            cell: ({ id, label, isDelivered, hiddenReason }) =>
              isDelivered ? (
                'stays'
              ) : (
                <Folded summary={hiddenReason === null ? 'Hide' : 'List again'} label={label}>
                  <HideForm kind="level" of={id} words={label} isHidden={hiddenReason !== null} />
                </Folded>
              ),
          },
        ]}
      />
      {merging.level === '' || merging.into === '' ? null : (
        <div id="merge-level" className="mt-6 max-w-[46rem]">
          <h3 className="mb-2 font-semibold">Merging two levels</h3>
          <Preview kind="level" of={merging.level} into={merging.into} actor={actor} />
        </div>
      )}
    </Section>
  );
}

/** Into which of the others of its factor; the one as delivered stays. */
function MergeLinks({ thing, level }: { thing: CuratedThing; level: Level }) {
  const others = thing.levels.filter(({ id, factor }) => factor === level.factor && id !== level.id);
  if (level.isDelivered || others.length === 0) return 'stays';
  return (
    <Folded summary="Merge" label={level.label}>
      <p className="text-sm">Into</p>
      <ul>
        {others.map(({ id, label }) => (
          <li key={id}>
            <Link
              className="link inline-flex min-h-9 items-center"
              href={`/curate?${new URLSearchParams({ kind: 'model', key: thing.slug, level: level.id, intoLevel: id })}#merge-level`}
            >
              {label}
            </Link>
          </li>
        ))}
      </ul>
    </Folded>
  );
}

function Folded({ summary, label, children }: { summary: string; label: string; children: React.ReactNode }) {
  return (
    <details>
      <summary className="link inline-flex min-h-9 cursor-pointer items-center">
        {summary}
        <span className="sr-only"> {label}</span>
      </summary>
      {children}
    </details>
  );
}
