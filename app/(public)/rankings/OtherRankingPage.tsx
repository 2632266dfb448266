import { ClassTabs } from '@/app/ui/ClassTabs';
import { EmptyState } from '@/app/ui/EmptyState';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readOtherRanking } from '@/lib/registry/otherRegistries/otherRanking';
import { readOthers } from '@/lib/registry/otherRegistries/others';
import type { WorldKey } from '@/lib/run/world';
import { senseOf } from '@/lib/units/sense';
import { OtherRanking } from '../registries/OtherRanking';
import { hrefWith, one, ownUnitHref, type SearchParams } from './query';
import { WhoseNumbers } from './WhoseNumbers';

/** The rankings of another registry, which have nothing of this one's. */
export async function OtherRankingPage({ world, params }: { world: WorldKey; params: SearchParams }) {
  const [view, others, display] = await Promise.all([
    readOtherRanking(registry(), { world, classKey: one(params, 'class'), from: one(params, 'from') }),
    readOthers(registry()),
    readerDisplay(params),
  ]);
  const { quantity, better } = senseOf(display.consumption);
  return (
    <>
      <PageHeader
        title="Rankings"
        {...(view && {
          lead: `Setups by ${quantity} at a steady ${view.classLabel}, as ${view.source.name} published them. ${better}.`,
        })}
      />
      <WhoseNumbers others={others} shown={world} beside={undefined} params={params} />
      {view === undefined ? (
        <EmptyState
          title="Nothing of that registry is shown here."
          action={<LinkButton href="/rankings">This registry’s rankings</LinkButton>}
        >
          It was taken off these pages, or has no ranked class.
        </EmptyState>
      ) : (
        <>
          <ClassTabs
            classes={view.classes}
            current={view.group.cruiseClassKey}
            hrefOf={(key) => hrefWith('/rankings', params, { class: key, from: undefined })}
          />
          <UnitNote unit={display.consumption} ownHref={ownUnitHref('/rankings', params)} />
          <OtherRanking view={view} params={params} display={display} isBeside={false} />
        </>
      )}
    </>
  );
}

/** Below this registry’s own ranking of a class: the other’s of the same class. */
export async function OtherBelow({
  world,
  classKey,
  classLabel,
  params,
}: {
  world: WorldKey;
  classKey: string;
  classLabel: string;
  params: SearchParams;
}) {
  const view = await readOtherRanking(registry(), { world, classKey });
  if (view === undefined) return null;
  if (view.group.cruiseClassKey !== classKey)
    return (
      <EmptyState title={`${view.source.name} has no runs at a steady ${classLabel}.`}>
        It has some at {view.classes.map(({ label }) => label).join(', ')}.
      </EmptyState>
    );
  return <OtherRanking view={view} params={params} display={await readerDisplay(params)} isBeside />;
}
