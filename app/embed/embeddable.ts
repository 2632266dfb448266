import { compareHref, compareQuery } from '@/app/(public)/compare/compareQuery';
import { comparedWords } from '@/app/(public)/compare/compareWords';
import { differencesFigure } from '@/app/(public)/compare/differencesFigure';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { type PublishedContrast, publishedStudy } from '@/app/(public)/studies/[slug]/studyFigures';
import { studyPath } from '@/app/(public)/studies/[slug]/studyWords';
import type { FigureDescription } from '@/app/ui/figures/description';
import { type ComparedSetup, type CompareView, readComparison } from '@/lib/registry/comparisons/compare';
import type { Registry } from '@/lib/registry/registry';
import { readStudy, type StudyView } from '@/lib/registry/studies/study';
import { DEFAULT_PREFERENCES, type Display, displayParameters } from '@/lib/units/display';
import { displayAt } from '@/lib/units/displaySchema';

/** What can stand in somebody else's page: a difference of a study, or a comparison. */
export interface Embeddable {
  figure: FigureDescription;
  /** What the page that it is of is called. */
  title: string;
  /** Whose it is; nobody's in particular for a comparison. */
  author?: { name: string; path: string };
  /** Of the page that it is of, and of the live figure itself. */
  path: string;
  embedPath: string;
}

/** Numbers as the address says them, never as a cookie does: whoever frames it shows it to others. */
const displayOf = (params: SearchParams) => displayAt(DEFAULT_PREFERENCES, (name) => one(params, name));

/** The difference of the setup that is named, or the first. */
export async function embeddableStudy(
  registry: Registry,
  slug: string,
  params: SearchParams,
): Promise<Embeddable | undefined> {
  const view = await readStudy(registry, undefined, slug);
  if (view === undefined) return undefined;
  const display = displayOf(params);
  const asked = one(params, 'setup');
  const contrasts = publishedStudy(view, display)?.contrasts ?? [];
  const found = contrasts.find(({ setup }) => asked === undefined || setup.slug === asked);
  if (found === undefined) return undefined;
  return studyEmbed(view, found, display, asked);
}

export function studyEmbed(
  view: StudyView,
  { figure }: PublishedContrast,
  display: Display,
  setupSlug: string | undefined,
): Embeddable {
  const query = new URLSearchParams(displayParameters(display));
  if (setupSlug !== undefined) query.set('setup', setupSlug);
  const text = query.toString();
  return {
    figure,
    title: view.question,
    author: { name: view.owner.displayName, path: `/testers/${view.owner.slug}` },
    path: studyPath(view.slug, display),
    embedPath: `/embed/studies/${view.slug}${text === '' ? '' : `?${text}`}`,
  };
}

export async function embeddableComparison(
  registry: Registry,
  params: SearchParams,
): Promise<Embeddable | undefined> {
  const view = await readComparison(registry, compareQuery(params));
  const baseline = view?.baseline;
  if (view === undefined || baseline === undefined || view.differences.length === 0) return undefined;
  return comparisonEmbed(view, baseline, displayOf(params));
}

export function comparisonEmbed(view: CompareView, baseline: ComparedSetup, display: Display): Embeddable {
  const figure = differencesFigure(view, baseline, display);
  const { cruiseClassKey, world } = view.group;
  const said = { class: cruiseClassKey, world, ...Object.fromEntries(displayParameters(display)) };
  const slugs = [baseline, ...view.others].map(({ slug }) => slug);
  return {
    figure,
    title: `${comparedWords(view, baseline)}, ${view.classLabel}`,
    path: figure.source.path,
    embedPath: compareHref({}, said, slugs, '/embed/compare'),
  };
}
