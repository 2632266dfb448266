import { publicAddress } from '@/app/runDossier/publicAddress';
import {
  FEED_KINDS,
  type FeedRun,
  readFeedOfRuns,
  readFeedRuns,
  readFeedTitle,
} from '@/lib/registry/feeds/feeds';
import type { Registry } from '@/lib/registry/registry';
import { readStudy, type StudyView } from '@/lib/registry/studies/study';
import { prepositionOf } from '@/lib/run/localDate';
import { DEMO } from '@/lib/run/world';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { displayAt } from '@/lib/units/displaySchema';
import { showWithUncertainty } from '@/lib/units/show';
import type { AtomEntry, AtomFeed } from './atom';
import { feedPath } from './feedPath';

/** A feed is nobody's in particular, so its numbers stand in the units that a visitor begins with. */
const DISPLAY = displayAt(DEFAULT_PREFERENCES, () => undefined);

/** The feed at a path below /feeds; undefined where there is no such thing. */
export async function feedOf(registry: Registry, path: readonly string[]): Promise<AtomFeed | undefined> {
  const [kind = '', file = '', ...rest] = path;
  if (rest.length > 0) return undefined;
  if (kind === 'all.atom' && file === '')
    return feed(
      'Evenloop',
      'Runs that came to count, the latest first',
      '/',
      runs(await readFeedRuns(registry)),
    );
  if (!file.endsWith('.atom')) return undefined;
  const slug = file.slice(0, -'.atom'.length);
  if (kind === 'studies') return studyFeed(registry, slug);
  const known = FEED_KINDS.find((one) => one === kind);
  const title = known && (await readFeedTitle(registry, known, slug));
  if (known === undefined || title === undefined) return undefined;
  const entries = runs(await readFeedRuns(registry, { kind: known, slug }));
  return feed(
    `Evenloop: ${title}`,
    'Runs that came to count, the latest first',
    `/${known}/${slug}`,
    entries,
  );
}

function feed(title: string, subtitle: string, page: string, entries: AtomEntry[], since?: Date): AtomFeed {
  return {
    title,
    subtitle,
    self: publicAddress(feedPath(page)),
    page: publicAddress(page),
    entries,
    since: since ?? new Date(0),
  };
}

async function studyFeed(registry: Registry, slug: string): Promise<AtomFeed | undefined> {
  const view = await readStudy(registry, undefined, slug);
  if (view === undefined) return undefined;
  const counting = view.sessions.flatMap((session) =>
    session.runs.flatMap(({ run }) => (run.standing === 'counts' ? [run.number] : [])),
  );
  const entries = [...steps(view), ...runs(await readFeedOfRuns(registry, counting))].sort(
    (a, b) => b.updated.getTime() - a.updated.getTime(),
  );
  const page = `/studies/${slug}`;
  return feed(`Evenloop: ${view.question}`, 'What happens in this study', page, entries, view.createdAt);
}

/** When its plan was fixed or changed, and when it ended. */
function steps(view: StudyView): AtomEntry[] {
  const href = publicAddress(`/studies/${view.slug}`);
  const step = (name: string, title: string, updated: Date, summary: string): AtomEntry => ({
    id: `${href}#${name}`,
    title,
    href,
    updated,
    summary,
    author: view.owner.displayName,
  });
  const changed = view.versions
    .filter(({ number }) => number > 1)
    .map(({ number, madeAt, reason }) => step(`plan-${number}`, 'The plan was changed', madeAt, reason));
  return [
    ...(view.beganAt === null ? [] : [step('begun', 'The study began', view.beganAt, view.question)]),
    ...changed,
    ...(view.endedAt === null
      ? []
      : [
          step(
            'ended',
            view.state === 'abandoned' ? 'The study was given up' : 'The study is complete',
            view.endedAt,
            view.endReason || view.question,
          ),
        ]),
  ];
}

function runs(found: readonly FeedRun[]): AtomEntry[] {
  return found.map((run) => {
    const href = publicAddress(`/runs/${run.number}`);
    const invented = run.world === DEMO ? 'Demo world, invented: ' : '';
    return {
      id: href,
      title: `${invented}run ${run.number}: ${run.setup}, ${run.model} at ${run.classLabel}`,
      href,
      updated: run.countedAt,
      summary: `${resultOf(run, DISPLAY)} Driven ${prepositionOf(run.day)} ${run.day} on ${run.loop}.`,
      author: run.tester,
    };
  });
}

function resultOf({ whPerKm, uWhPerKm }: FeedRun, display: Display): string {
  return whPerKm === null || uWhPerKm === null
    ? 'Driven in conditions that the method does not reach: no number at reference conditions.'
    : `${showWithUncertainty(whPerKm, uWhPerKm, 'consumption', display)} at reference conditions (standard uncertainty).`;
}
