import type { Metadata } from 'next';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { forRole } from '@/app/visitor/forRole';
import { registry } from '@/app/visitor/registry';
import {
  type LevelToMap,
  readSharedLevels,
  type SharedLevelsView,
} from '@/lib/registry/factors/sharedLevels';
import { worldTitle } from '@/lib/run/world';
import { BaselineForm, ChangeForms, MapForm, NameForm, NameSuggestedForm } from './Forms';

export const metadata: Metadata = { title: 'Shared levels' };
export const dynamic = 'force-dynamic';

const PATH = '/shared-levels';

export default async function SharedLevelsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const view = await forRole(
    readSharedLevels(registry(), await requireSignedIn(PATH), {
      world: one(params, 'world'),
      factor: one(params, 'factor'),
      onlyOpen: one(params, 'open') === 'yes',
      from: one(params, 'from'),
    }),
  );
  const { factor, world } = view;
  const hrefOf = (changes: Record<string, string | undefined>) =>
    hrefWith(PATH, params, { from: undefined, ...changes });
  return (
    <>
      <PageHeader
        title="Shared levels"
        lead="What testers named model by model, brought under one name. Only levels that are mapped here are put together on the pages of factors, and a mapping can be taken back at any time."
      />
      {view.worlds.length > 1 ? (
        <LinkTabs
          label="World"
          tabs={view.worlds.map((key) => ({
            href: hrefOf({ world: key }),
            label: worldTitle(key),
            current: key === world,
          }))}
        />
      ) : null}
      <LinkTabs
        label="Factor"
        tabs={view.factors.map(({ key, label, mapped, all }) => ({
          href: hrefOf({ factor: key }),
          label: `${label}, ${mapped} of ${all} mapped`,
          current: key === factor,
        }))}
      />
      <Shared view={view} />
      <Section id="levels" title={`${view.factorLabel} as testers named it`} wide>
        <p className="mb-3 text-sm">
          <Link className="link" href={hrefOf({ open: view.onlyOpen ? undefined : 'yes' })}>
            {view.onlyOpen ? 'Show all levels' : 'Show only levels that are not mapped'}
          </Link>
        </p>
        <Levels view={view} />
        <KeysetPages {...view} label="Pages of levels" hrefFor={(from) => hrefWith(PATH, params, { from })} />
      </Section>
    </>
  );
}

function Shared({ view: { shared, world, factor, factorLabel, toName } }: { view: SharedLevelsView }) {
  const baseline = shared.find(({ isBaseline }) => isBaseline);
  return (
    <Section
      id="shared"
      title={`Shared levels of ${factorLabel.toLowerCase()}`}
      note="Suggestions go by names alone: whether two levels are the same thing is for you to judge."
      wide
    >
      {shared.length === 0 ? (
        <EmptyState title="None yet.">
          Name the one that the others are to be held against first, most often how cars are delivered.
        </EmptyState>
      ) : (
        <DataTable
          caption="Shared levels"
          captionHidden
          rows={shared}
          rowKey={({ id }) => id}
          columns={[
            { key: 'words', header: 'Name', rowHeader: true, cell: ({ words }) => words },
            {
              key: 'levels',
              header: 'Levels mapped',
              align: 'end',
              cell: ({ _count }) => _count.levels,
            },
            {
              key: 'baseline',
              header: 'Held against',
              cell: ({ id, words, isBaseline }) =>
                isBaseline || baseline === undefined ? (
                  'the others are held against it'
                ) : (
                  <BaselineForm seenId={baseline.id} sharedLevelId={id} words={words} />
                ),
            },
            {
              key: 'change',
              header: 'Change',
              wide: true,
              cell: ({ id, words, isBaseline, _count }) => (
                <ChangeForms
                  key={words}
                  sharedLevelId={id}
                  words={words}
                  mapped={_count.levels}
                  isHeldAgainst={isBaseline && shared.length > 1}
                />
              ),
            },
          ]}
        />
      )}
      {toName.length > 0 ? (
        <div className="mt-4 flex flex-wrap items-center gap-3 text-sm">
          <span>Suggested by the names below:</span>
          {toName.map((words) => (
            <NameSuggestedForm key={words} world={world} factor={factor} words={words} />
          ))}
        </div>
      ) : null}
      <div className="mt-4">
        <NameForm world={world} factor={factor} />
      </div>
    </Section>
  );
}

function Levels({ view: { rows, shared } }: { view: SharedLevelsView }) {
  return (
    <DataTable
      caption="Levels of models"
      captionHidden
      rows={rows}
      rowKey={({ id }) => id}
      empty="No model has such a level."
      columns={[
        {
          key: 'level',
          header: 'Level',
          rowHeader: true,
          cell: ({ label, isAsDelivered }) => `${label}${isAsDelivered ? ' (as delivered)' : ''}`,
        },
        {
          key: 'model',
          header: 'Model',
          cell: ({ model, modelSlug }) => (
            <Link className="link" href={`/models/${modelSlug}`}>
              {model}
            </Link>
          ),
        },
        { key: 'suggestion', header: 'Suggested', cell: suggestionText },
        {
          key: 'shared',
          header: 'Mapped to',
          cell: (level) => (
            <MapForm
              levelId={level.id}
              levelName={`${level.label} of ${level.model}`}
              seenId={level.sharedLevelId}
              suggestedId={level.suggestion?.id}
              options={shared.map(({ id, words }) => ({ id, words }))}
            />
          ),
        },
      ]}
    />
  );
}

function suggestionText({ sharedLevelId, suggestion }: LevelToMap): string {
  if (sharedLevelId !== null) return 'mapped';
  if (suggestion === undefined) return 'nothing';
  return suggestion.id === undefined ? `${suggestion.words}, to be named first` : suggestion.words;
}
