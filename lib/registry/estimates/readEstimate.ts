import type { CurveBasis } from '@/lib/physics/estimate/chargingCurve';
import { conditionsAsked } from '@/lib/physics/estimate/conditionsAsked';
import type { EstimateRefusal } from '@/lib/physics/estimate/estimateReach';
import { batteryAsked } from '@/lib/physics/estimate/tripPlan';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { InputIssue } from '@/lib/run/errors';
import { type EstimateAsked, parseEstimate } from '@/lib/run/estimate/parseEstimate';
import { modelInText } from '@/lib/run/modelWords';
import { isSlug } from '@/lib/run/slug';
import { searchText } from '@/lib/run/storableText';
import type { WorldKey } from '@/lib/run/world';
import { readChargingSheet } from '@/lib/store/chargingSheets';
import { type SetupToEstimate, setupsEstimated, setupToEstimate } from '@/lib/store/estimates';
import { chooseGroup } from '../comparisons/comparisonWorld';
import { methodInEffect } from '../method/methodInEffect';
import { movedAddress } from '../names/movedAddress';
import type { Registry } from '../registry';
import {
  type EstimatedClass,
  type EstimatedClasses,
  estimatedClasses,
  type NoNumber,
  nearestClass,
  worldOf,
} from './estimatedClasses';
import {
  type BestSpeedShown,
  bestSpeedOf,
  differencesOf,
  estimateOfSetup,
  type SetupEstimate,
  type TripAsked,
  type TripDifferences,
} from './setupEstimate';

export interface EstimateQuery {
  /** Numbers with their units and choices, as typed. */
  readonly form: Readonly<Record<string, string>>;
  readonly setupSlug?: string | undefined;
  /** A setup of the same model, held beside it. */
  readonly againstSlug?: string | undefined;
  /** Whose speed stands where none is asked. */
  readonly classKey?: string | undefined;
  readonly world?: string | undefined;
  /** Part of the names of setups to choose from. */
  readonly find?: string | undefined;
}

/** What an estimate starts from. */
export type ClassOfEstimate = Omit<EstimatedClass, 'fit' | 'logMean'>;

export interface Answered {
  readonly kind: 'answered';
  readonly asked: EstimateAsked;
  readonly of: ClassOfEstimate;
  readonly first: SetupEstimate;
  readonly second: SetupEstimate | undefined;
  /** The second less the first. */
  readonly differences: TripDifferences | null;
  readonly speeds: BestSpeedShown | null;
  /** Undefined where nobody knows the battery. */
  readonly curveBasis: CurveBasis | undefined;
}

export type EstimateOutcome =
  | { readonly kind: 'nothingAsked' }
  | { readonly kind: 'invalid' }
  | { readonly kind: 'noNumber'; readonly why: NoNumber }
  | { readonly kind: 'refused'; readonly refusal: EstimateRefusal; readonly of: ClassOfEstimate }
  | Answered;

export interface SetupNamed {
  readonly slug: string;
  readonly title: string;
}

export interface EstimateView {
  /** Undefined where nothing was fitted yet. */
  readonly world: WorldKey | undefined;
  /** Setups to choose from: the one chosen, and those whose names hold `find`. */
  readonly choices: readonly (SetupNamed & { readonly model: string })[];
  readonly find: string;
  /** Further ones that could be found. */
  readonly notOffered: number;
  readonly setup:
    | (SetupNamed & {
        readonly model: string;
        readonly modelSlug: string;
        readonly usableCapacityWh: number | null;
        /** Speeds at which an answer starts from runs of its own. */
        readonly classes: readonly { readonly key: string; readonly label: string }[];
      })
    | undefined;
  /** Asked for, and not known. */
  readonly isUnknown: boolean;
  /** Others of its model. */
  readonly siblings: readonly SetupNamed[];
  readonly against: SetupNamed | undefined;
  /** Whether what was to be held beside it is of another model, with another car and battery, and is left out. */
  readonly isAgainstOfOtherModel: boolean;
  /** Why the second has no number, where only that. */
  readonly againstWithout: 'notAtThisSpeed' | undefined;
  /** Asked, or that of the class that stands for it; undefined where there is none. */
  readonly speedMps: number | undefined;
  readonly issues: readonly InputIssue[];
  readonly outcome: EstimateOutcome;
}

/** Setups to choose from at once; the others are found by their names. */
const MOST_OFFERED = 60;

/** What a reader's car would do: one setup or two of one model on one trip. Public, and reads no more than it shows. */
export async function readEstimate(registry: Registry, query: EstimateQuery): Promise<EstimateView> {
  const [setup, against] = await Promise.all([
    setupNamed(registry, query.setupSlug),
    setupNamed(registry, query.againstSlug),
  ]);
  const world =
    setup === null ? (await chooseGroup(registry, { world: query.world }))?.group.world : worldOf(setup);
  const second = against?.model.id === setup?.model.id && against?.id !== setup?.id ? against : null;
  const parsed = parseEstimate(query.form);
  const [offers, answer] = await Promise.all([
    readOffers(registry, world, setup, query.find),
    setup === null
      ? NOTHING_ASKED
      : readAnswer(registry, setup, second, parsed.ok ? parsed.asked : undefined, query.classKey),
  ]);
  return {
    world,
    ...offers,
    isUnknown: setup === null && query.setupSlug !== undefined,
    isAgainstOfOtherModel: setup !== null && against !== null && against.model.id !== setup.model.id,
    against: second === null ? undefined : { slug: second.slug, title: second.title },
    issues: parsed.ok ? [] : parsed.issues,
    ...answer,
  };
}

async function setupNamed(registry: Registry, slug: string | undefined): Promise<SetupToEstimate | null> {
  if (slug === undefined || !isSlug(slug)) return null;
  const setup = await setupToEstimate(registry.db, slug);
  if (setup !== null && setup.mergedIntoId === null) return setup;
  const now = await movedAddress(registry, 'setup', slug);
  return now === undefined ? setup : setupToEstimate(registry.db, now);
}

async function readOffers(
  registry: Registry,
  world: WorldKey | undefined,
  setup: SetupToEstimate | null,
  find: string | undefined,
): Promise<Pick<EstimateView, 'choices' | 'find' | 'notOffered' | 'siblings'>> {
  const text = searchText(find);
  if (world === undefined) return { choices: [], find: text ?? '', notOffered: 0, siblings: [] };
  const offered = await setupsEstimated(registry.db, world, { text }, MOST_OFFERED);
  const isAll = text === undefined && offered.total === offered.rows.length;
  const ofModel =
    setup === null || isAll
      ? offered.rows.filter(({ model }) => model.id === setup?.model.id)
      : (await setupsEstimated(registry.db, world, { modelId: setup.model.id }, MOST_OFFERED)).rows;
  const rows =
    setup === null || offered.rows.some(({ slug }) => slug === setup.slug)
      ? offered.rows
      : [setup, ...offered.rows];
  return {
    choices: rows.map(({ slug, title, model }) => ({ slug, title, model: modelInText(model) })),
    find: text ?? '',
    notOffered: offered.total - offered.rows.length,
    siblings: ofModel.filter(({ slug }) => slug !== setup?.slug).map(({ slug, title }) => ({ slug, title })),
  };
}

type AnswerRead = Pick<EstimateView, 'setup' | 'speedMps' | 'againstWithout' | 'outcome'>;

const NOTHING_ASKED: AnswerRead = {
  setup: undefined,
  speedMps: undefined,
  againstWithout: undefined,
  outcome: { kind: 'nothingAsked' },
};

async function readAnswer(
  registry: Registry,
  setup: SetupToEstimate,
  against: SetupToEstimate | null,
  asked: EstimateAsked | undefined,
  classKey: string | undefined,
): Promise<AnswerRead> {
  const [method, sheet, [first, second]] = await Promise.all([
    methodInEffect(registry.db, worldOf(setup)),
    readChargingSheet(registry.db, setup.model.id),
    estimatedClasses(registry, against === null ? [setup] : [setup, against]),
  ]);
  const classes = first?.classes ?? [];
  const known = {
    slug: setup.slug,
    title: setup.title,
    model: modelInText(setup.model),
    modelSlug: setup.model.slug,
    usableCapacityWh: setup.model.usableCapacityWh,
    classes: classes.map(({ key, label }) => ({ key, label })),
  };
  const speedMps = asked?.speed ?? usualSpeedMps(classes, classKey);
  const read = { setup: known, speedMps, againstWithout: undefined };
  if (first?.without !== undefined) return { ...read, outcome: { kind: 'noNumber', why: first.without } };
  if (asked === undefined || speedMps === undefined) return { ...read, outcome: { kind: 'invalid' } };
  const both = shared(first, second);
  const of = nearestClass(both.length > 0 ? both : classes, speedMps);
  if (of === undefined) return { ...read, outcome: { kind: 'noNumber', why: 'notDriven' } };
  const trip: TripAsked = {
    method,
    conditions: conditionsAsked(asked, speedMps, setup.model.hasHeatPump),
    loadKg: asked.load,
    battery: batteryAsked(asked, setup.model.usableCapacityWh, sheet),
  };
  const computed = estimateOfSetup(setup, of, trip);
  if (computed.refusal !== null)
    return { ...read, outcome: { kind: 'refused', refusal: computed.refusal, of: shownClass(of) } };
  const ofSecond = second?.classes.find(({ key }) => key === of.key);
  const beside = against && ofSecond ? estimateOfSetup(against, ofSecond, trip) : undefined;
  const computedSecond = beside?.refusal === null ? beside : undefined;
  return {
    ...read,
    againstWithout: against !== null && computedSecond === undefined ? 'notAtThisSpeed' : undefined,
    outcome: {
      kind: 'answered',
      asked,
      of: shownClass(of),
      first: computed.shown,
      second: computedSecond?.shown,
      differences: computedSecond ? differencesOf(of, [computed, computedSecond], trip) : null,
      speeds: bestSpeedOf(setup, classes, trip),
      curveBasis: trip.battery?.curveBasis,
    },
  };
}

/** Without a speed that of the class asked for, else of the class with most runs. */
function usualSpeedMps(classes: readonly EstimatedClass[], classKey: string | undefined): number | undefined {
  const asked = classKey === undefined ? undefined : cruiseClassByKey(classKey);
  const most = classes.reduce<EstimatedClass | undefined>(
    (a, b) => (a !== undefined && a.runs >= b.runs ? a : b),
    undefined,
  );
  return (asked ?? most)?.speedMps;
}

/** The classes that both setups have, where there are two. */
function shared(first: EstimatedClasses | undefined, second: EstimatedClasses | undefined): EstimatedClass[] {
  return (first?.classes ?? []).filter(
    ({ key }) => second === undefined || second.classes.some((other) => other.key === key),
  );
}

function shownClass({ fit: _fit, logMean: _logMean, ...of }: EstimatedClass): ClassOfEstimate {
  return of;
}
