import { may } from '@/lib/access/permissions';
import { dateText } from '@/lib/run/localDate';
import { modelInText } from '@/lib/run/modelWords';
import { publishedText } from '@/lib/run/publishedDay';
import type { Actor } from '@/lib/run/roles';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { hasCarOf, type StoredStudy, studyBySlug } from '@/lib/store/studies';
import { setupsNamed } from '@/lib/store/studyBasis';
import { runsOfStudy, type StoredStudyRun } from '@/lib/store/studyRuns';
import { type DrivenSession, drivenSessions, type StudiedRun } from '@/lib/study/driven';
import { type StudyPlan, setupsOfPlan } from '@/lib/study/plan';
import { type CountedStudyRun, type StudyStanding, standingOf } from '@/lib/study/standing';
import { type StudyState, studyStateAfter } from '@/lib/study/studyState';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { fittingDays } from './addRuns';
import { type NextOfStudy, nextOfStudies } from './beginPlannedRun';
import { readGuesses, type StudyGuesses } from './guesses';
import { runSpread } from './planningBasis';

/** A run of a study as readers see it: one that nobody has approved has no number and no result here. */
export interface ShownStudyRun extends StudiedRun {
  /** What may be said of it in public. */
  standing: 'counts' | 'approved' | 'waiting' | 'does not count';
  isPublic: boolean;
  wasChosen: boolean;
  /** yyyy-mm-dd; yyyy-mm where its tester publishes no more. */
  day: string;
  tester: { displayName: string; slug: string };
  isMine: boolean;
  /** Where it begins in its tester's video. */
  videoAtS: number | null;
  airTemperatureC: number | null;
  windSpeedMps: number | null;
  /** Normalised, Wh/km; null where it does not count. */
  whPerKm: number | null;
}

export interface NamedSetup {
  id: string;
  slug: string;
  title: string;
}

export interface StudyView {
  id: string;
  slug: string;
  question: string;
  state: StudyState;
  world: WorldKey;
  model: { words: string; slug: string };
  classLabel: string;
  speedMps: number;
  loop: { name: string; slug: string; lengthM: number };
  owner: { displayName: string; slug: string };
  testers: { displayName: string; slug: string }[];
  createdAt: Date;
  beganAt: Date | null;
  endedAt: Date | null;
  endReason: string;
  /** What readers asked for that it was planned from. */
  request: { id: string } | null;
  /** The newest first; a plan that can no longer be read is left out. */
  versions: { number: number; plan: StudyPlan | undefined; reason: string; madeAt: Date; by: string }[];
  /** The plan that holds. */
  plan: StudyPlan | undefined;
  setups: NamedSetup[];
  sessions: DrivenSession<ShownStudyRun>[];
  counts: { runs: number; counted: number; waiting: number; days: number };
  standing: StudyStanding | null;
  /** What it was worked out from, for whoever works it out otherwise. */
  basis: StudyBasis;
  asOf: Date;
  guesses: StudyGuesses;
  /** The method that its numbers were made by. */
  methodVersion: string;
  /** What whoever asks may do. */
  mine: StudyOfMine;
}

export interface StudyBasis {
  counted: CountedStudyRun[];
  /** The run's id by its number. */
  runIds: ReadonlyMap<number, string>;
  unexplainedVariance: number;
}

export interface StudyOfMine {
  isOwner: boolean;
  drives: boolean;
  mayJoin: boolean;
  mayBegin: boolean;
  mayComplete: boolean;
  mayAbandon: boolean;
  mayReplan: boolean;
  /** What is next for them, of a study that they may send runs in for. */
  next: NextOfStudy | undefined;
  /** Days of theirs that could be added. */
  days: { sessionId: string; day: string; loop: string; car: string; runs: number }[];
}

/** A study, public in every state: the plan against what was driven, and what may be said by now. */
export async function readStudy(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<StudyView | undefined> {
  if (!isSlug(slug)) return undefined;
  const { db } = registry;
  const study = await studyBySlug(db, slug);
  if (study === null) return undefined;
  const world = worldKey(study.world);
  const plan = study.versions[0]?.plan;
  const [{ stored, plannedAt, counted, spread, methodVersion }, setups] = await Promise.all([
    numbersOfStudy(registry, study),
    setupsNamed(db, plan === undefined ? [] : setupsOfPlan(plan)),
  ]);
  const runs = stored.flatMap((run) => shownRun(run, plannedAt, actor));
  const sessions = plan === undefined ? [] : drivenSessions(plan, runs);
  return {
    id: study.id,
    slug: study.slug,
    question: study.question,
    state: study.state,
    world,
    model: { words: modelInText(study.model), slug: study.model.slug },
    classLabel: study.cruiseClass.label,
    speedMps: study.cruiseClass.speedMps,
    loop: study.loop,
    owner: study.owner,
    testers: study.testers.map(({ account }) => account),
    createdAt: study.createdAt,
    beganAt: study.beganAt,
    endedAt: study.endedAt,
    endReason: study.endReason,
    request: study.request?.hiddenAt === null ? { id: study.request.id } : null,
    versions: study.versions.map(({ madeBy, ...version }) => ({ ...version, by: madeBy.displayName })),
    plan,
    setups: plan === undefined ? [] : inOrder(setupsOfPlan(plan), setups),
    sessions,
    counts: {
      runs: runs.length,
      counted: counted.length,
      waiting: runs.filter(({ standing }) => standing === 'waiting').length,
      days: sessions.length,
    },
    standing:
      plan === undefined
        ? null
        : standingOf({
            plan,
            state: study.state,
            versions: study.versions.length,
            runs: counted,
            unexplainedVariance: spread.unexplained,
          }),
    basis: {
      counted,
      runIds: new Map(stored.map(({ number, id }) => [number, id])),
      unexplainedVariance: spread.unexplained,
    },
    asOf: registry.now(),
    guesses: await readGuesses(registry, actor, study),
    methodVersion,
    mine: await ofMine(registry, actor, study, plan),
  };
}

/** The runs of a study with what of them counts, and how well runs of its class repeat. */
export async function numbersOfStudy({ db }: Registry, study: StoredStudy) {
  const world = worldKey(study.world);
  const methodVersion = await shownLabel(db, world);
  const [stored, spread] = await Promise.all([
    runsOfStudy(db, study.id, methodVersion),
    runSpread(db, { cruiseClassKey: study.cruiseClass.key, world }),
  ]);
  const plannedAt = study.versions.at(-1)?.madeAt ?? study.createdAt;
  return {
    stored,
    spread,
    plannedAt,
    methodVersion,
    counted: stored.flatMap((run) => countedRun(run, plannedAt)),
  };
}

function inOrder(ids: readonly string[], setups: readonly NamedSetup[]): NamedSetup[] {
  return ids.map(
    (id) => setups.find((setup) => setup.id === id) ?? { id, slug: '', title: 'a setup that is gone' },
  );
}

const NOT_COUNTING = new Set(['rejected', 'retracted', 'superseded']);

/** What a session's order needs of a run; a draft that was taken back is none. */
export function studied(run: StoredStudyRun, plannedAt: Date): (StudiedRun & { day: string }) | undefined {
  const { number, setupId, loopId, sessionId, cruiseClassKey, revision, status } = run;
  if (status === 'draft' || revision === undefined) return undefined;
  if (setupId === null || loopId === null || sessionId === null || cruiseClassKey === null) return undefined;
  return {
    number,
    setupId,
    loopId,
    sessionId,
    cruiseClassKey,
    startedAt: revision.startedAt.toISOString(),
    isBeforePlan: revision.startedAt < plannedAt,
    day: publishedText(run.localDate, run.monthOnly),
  };
}

function shownRun(run: StoredStudyRun, plannedAt: Date, actor: Actor | undefined): ShownStudyRun[] {
  const of = studied(run, plannedAt);
  if (of === undefined) return [];
  const { counted, revision, status } = run;
  const isPublic = status === 'approved' || status === 'retracted';
  const standing = NOT_COUNTING.has(status)
    ? 'does not count'
    : counted?.z != null && !of.isBeforePlan
      ? 'counts'
      : status === 'approved'
        ? 'approved'
        : 'waiting';
  return [
    {
      ...of,
      standing,
      isPublic,
      wasChosen: run.wasChosen,
      tester: run.tester,
      isMine: run.testerId === actor?.accountId,
      videoAtS: run.videoAtS,
      airTemperatureC: isPublic ? (revision?.conditions?.airTemperatureC ?? null) : null,
      windSpeedMps: isPublic ? (revision?.conditions?.windSpeedMps ?? null) : null,
      whPerKm: standing === 'counts' && counted?.z != null ? Math.exp(counted.z) : null,
    },
  ];
}

/** Runs from before the plan are shown and marked, but the plan cannot vouch for them. */
function countedRun(run: StoredStudyRun, plannedAt: Date): CountedStudyRun[] {
  const of = studied(run, plannedAt);
  const { counted, carId, testerId } = run;
  if (of === undefined || of.isBeforePlan || carId === null) return [];
  if (counted == null || counted.z === null || counted.u === null) return [];
  return [{ ...of, z: counted.z, u: counted.u, countedAt: counted.countedAt.toISOString(), carId, testerId }];
}

async function ofMine(
  registry: Registry,
  actor: Actor | undefined,
  study: StoredStudy,
  plan: StudyPlan | undefined,
): Promise<StudyOfMine> {
  const world = worldKey(study.world);
  const isOwner = may(actor, 'changeStudy', study.ownerId, world);
  const drives = study.testers.some(({ accountId }) => accountId === actor?.accountId);
  const isRunning = study.state === 'running';
  const mayDrive = actor !== undefined && may(actor, 'planStudy', study.ownerId, world);
  const isOpen = isRunning || study.state === 'draft';
  const [days, hasCar, nexts] = await Promise.all([
    drives && isRunning && actor !== undefined && plan !== undefined
      ? fittingDays(registry.db, { ...study, plan }, actor.accountId)
      : [],
    mayDrive && isRunning && !drives ? hasCarOf(registry.db, actor.accountId, study.modelId) : false,
    drives && isOpen && actor !== undefined && may(actor, 'recordRun') ? nextOfStudies(registry, actor) : [],
  ]);
  return {
    isOwner,
    drives,
    mayJoin: hasCar,
    mayBegin: isOwner && studyStateAfter(study.state, 'begin') !== undefined,
    mayComplete: isOwner && studyStateAfter(study.state, 'complete') !== undefined,
    mayAbandon: isOwner && studyStateAfter(study.state, 'abandon') !== undefined,
    next: nexts.find((one) => one.study.studyId === study.id),
    mayReplan: isOwner && (study.state === 'draft' || isRunning) && plan !== undefined,
    days: days.map(({ sessionId, localDate, loop, car, runIds }) => ({
      sessionId,
      day: dateText(localDate),
      loop,
      car,
      runs: runIds.length,
    })),
  };
}
