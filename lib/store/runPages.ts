import { readCase } from '@/lib/physics/stored';
import { readFindingNumbers, readSaid } from '@/lib/protocol/stored';
import { readReduction } from '@/lib/reduction/stored';
import type { RunStatus } from '@/lib/run/runStatus';
import { readForm } from '@/lib/run/stored';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';

const MODEL_NAME = {
  slug: true,
  name: true,
  modelYear: true,
  variant: true,
  maker: { select: { name: true } },
} as const;

const PERSON = { displayName: true, slug: true } as const;

/** Everything that the page of one run shows, of all its revisions. */
export async function runDossier(db: Queryable, number: number) {
  const found = await db.run.findUnique({
    where: { number },
    select: {
      id: true,
      number: true,
      testerId: true,
      status: true,
      world: true,
      submittedAt: true,
      decidedAt: true,
      approvedRevision: true,
      setupId: true,
      carId: true,
      loopId: true,
      sessionId: true,
      cruiseClassKey: true,
      tester: { select: PERSON },
      car: { select: { name: true, model: { select: { ...MODEL_NAME, id: true, bodyClass: true } } } },
      setup: { select: { slug: true, title: true } },
      loop: { select: { slug: true, name: true, region: true, lengthM: true, lengthUncertaintyM: true } },
      cruiseClass: { select: { label: true } },
      supersededBy: { select: { number: true } },
      supersedes: { select: { number: true } },
      retraction: { select: { reason: true, retractedAt: true, by: { select: PERSON } } },
      claims: {
        orderBy: { claimedAt: 'asc' },
        select: { reviewerId: true, claimedAt: true, releasedAt: true, reviewer: { select: PERSON } },
      },
      revisions: { orderBy: { number: 'asc' }, select: REVISION },
    },
  });
  return found && { ...found, revisions: found.revisions.map(readRevision) };
}

const REVISION = {
  id: true,
  number: true,
  submittedAt: true,
  submittedBy: { select: PERSON },
  form: true,
  startedAt: true,
  utcOffsetMin: true,
  localDate: true,
  trueSpeedMethod: true,
  climate: true,
  chargerKind: true,
  isRetrospective: true,
  notes: true,
  protocolVersion: { select: { label: true } },
  readings: {
    select: {
      quantity: true,
      moment: true,
      instrument: true,
      enteredText: true,
      enteredUnit: true,
      value: true,
      low: true,
      high: true,
    },
  },
  conditions: {
    select: {
      source: true,
      airTemperatureC: true,
      airTemperatureUC: true,
      pressurePa: true,
      pressureKind: true,
      relativeHumidity: true,
      dewPointC: true,
      windSpeedMps: true,
      windFromDeg: true,
      windGustMps: true,
      stationDistanceM: true,
      precipitation: true,
      road: true,
      traffic: true,
      closeFollowing: true,
      stationReport: true,
    },
  },
  evidence: {
    orderBy: { evidence: { uploadedAt: 'asc' } },
    select: {
      evidence: {
        select: {
          id: true,
          kind: true,
          sha256: true,
          thumbSha256: true,
          widthPx: true,
          heightPx: true,
          capturedAt: true,
        },
      },
    },
  },
  findings: {
    select: {
      ruleId: true,
      outcome: true,
      numbers: true,
      sentence: true,
      said: true,
      protocolVersion: { select: { label: true } },
    },
  },
  normalisations: {
    orderBy: { computedAt: 'desc' },
    select: {
      methodVersion: true,
      computedAt: true,
      input: true,
      result: true,
      isNormalised: true,
      measuredWhPerKm: true,
      normalisedWhPerKm: true,
      uWhPerKm: true,
    },
  },
  decisions: {
    select: {
      kind: true,
      note: true,
      decidedAt: true,
      reviewer: { select: PERSON },
      reasons: { select: { ruleId: true, text: true } },
    },
  },
} as const satisfies Prisma.RunRevisionSelect;

type StoredRevision = Prisma.RunRevisionGetPayload<{ select: typeof REVISION }>;

function readRevision({ form, findings, normalisations, ...revision }: StoredRevision) {
  return {
    ...revision,
    form: readForm(form),
    findings: findings.map((finding) => ({
      ...finding,
      numbers: readFindingNumbers(finding.numbers),
      said: readSaid(finding.said),
    })),
    normalisations: normalisations.map(({ input, result, ...row }) => ({
      ...row,
      input: readCase(input),
      result: readReduction(result),
    })),
  };
}

export type RunDossier = NonNullable<Awaited<ReturnType<typeof runDossier>>>;
export type DossierRevision = RunDossier['revisions'][number];

/** The normalisation input of the shown revision alone, for the download. */
export async function runCases(db: Queryable, number: number) {
  const found = await db.run.findUnique({
    where: { number },
    select: {
      testerId: true,
      status: true,
      world: true,
      approvedRevision: true,
      revisions: {
        orderBy: { number: 'desc' },
        select: {
          number: true,
          normalisations: {
            orderBy: { computedAt: 'desc' },
            take: 1,
            select: { input: true, methodVersion: true },
          },
        },
      },
    },
  });
  return (
    found && {
      ...found,
      revisions: found.revisions.map(({ number: revision, normalisations: [newest] }) => ({
        number: revision,
        normalisation: newest && { methodVersion: newest.methodVersion, input: readCase(newest.input) },
      })),
    }
  );
}

export interface PublicRunFilter {
  statuses: RunStatus[];
  cruiseClassKey?: string | undefined;
  modelSlug?: string | undefined;
  loopSlug?: string | undefined;
  testerSlug?: string | undefined;
}

function publicWhere(filter: PublicRunFilter): Prisma.RunWhereInput {
  return {
    status: { in: filter.statuses },
    ...(filter.cruiseClassKey ? { cruiseClassKey: filter.cruiseClassKey } : {}),
    ...(filter.modelSlug ? { setup: { model: { slug: filter.modelSlug } } } : {}),
    ...(filter.loopSlug ? { loop: { slug: filter.loopSlug } } : {}),
    ...(filter.testerSlug ? { tester: { slug: filter.testerSlug } } : {}),
  };
}

export function countPublicRuns(db: Queryable, filter: PublicRunFilter): Promise<number> {
  return db.run.count({ where: publicWhere(filter) });
}

/** Public runs from a place on, the latest session first. */
export function publicRuns(
  db: Queryable,
  filter: PublicRunFilter & { shown: readonly ShownLabel[] },
  place: Place<readonly [Date, number]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  return db.run.findMany({
    where: {
      ...publicWhere(filter),
      AND: beyond<Prisma.RunWhereInput>(['localDate', 'number'], place, 'desc'),
    },
    orderBy: [{ localDate: order }, { number: order }],
    take,
    select: {
      number: true,
      status: true,
      world: true,
      approvedRevision: true,
      countedRuns: {
        where: { OR: [...filter.shown] },
        select: { measuredWhPerKm: true, z: true, uWhPerKm: true, effectiveDof: true },
      },
      tester: { select: PERSON },
      setup: { select: { slug: true, title: true, model: { select: MODEL_NAME } } },
      loop: { select: { slug: true, name: true } },
      cruiseClass: { select: { label: true } },
      localDate: true,
      revisions: {
        orderBy: { number: 'desc' },
        select: {
          number: true,
          conditions: {
            select: { airTemperatureC: true, windSpeedMps: true, road: true, precipitation: true },
          },
          // of runs that count no more
          normalisations: {
            orderBy: { computedAt: 'desc' },
            take: 1,
            select: {
              isNormalised: true,
              measuredWhPerKm: true,
              normalisedWhPerKm: true,
              uWhPerKm: true,
              effectiveDof: true,
            },
          },
        },
      },
    },
  });
}

/** Of each kind offered to filter by; the address takes any. */
const MOST_CHOICES = 200;

/** What runs of the given states can be filtered by: only what occurs among them. */
export async function runFilterChoices(db: Queryable, statuses: RunStatus[], onlyWorld?: WorldKey) {
  const some = { some: { status: { in: statuses }, ...(onlyWorld ? { world: onlyWorld } : {}) } };
  const [classes, models, loops, testers] = await Promise.all([
    db.cruiseClass.findMany({
      where: { runs: some },
      orderBy: { ordinal: 'asc' },
      take: MOST_CHOICES,
      select: { key: true, label: true },
    }),
    db.vehicleModel.findMany({
      where: { setups: { some: { runs: some } } },
      orderBy: [{ maker: { name: 'asc' } }, { name: 'asc' }],
      take: MOST_CHOICES,
      select: { ...MODEL_NAME, id: true },
    }),
    db.loop.findMany({
      where: { runs: some },
      orderBy: { name: 'asc' },
      take: MOST_CHOICES,
      select: { id: true, slug: true, name: true },
    }),
    db.account.findMany({
      where: { runs: some },
      orderBy: { displayName: 'asc' },
      take: MOST_CHOICES,
      select: PERSON,
    }),
  ]);
  return { classes, models, loops, testers };
}

/** The oldest submitted run of someone else that nobody, or this reviewer, has claimed. */
export function nextForReview(
  db: Queryable,
  { reviewerId, onlyWorld }: { reviewerId: string; onlyWorld?: WorldKey | undefined },
  exceptRunId: string,
) {
  return db.run.findFirst({
    where: {
      status: 'submitted',
      ...(onlyWorld ? { world: onlyWorld } : {}),
      id: { not: exceptRunId },
      testerId: { not: reviewerId },
      OR: [
        { claims: { none: { releasedAt: null } } },
        { claims: { some: { releasedAt: null, reviewerId } } },
      ],
    },
    orderBy: { submittedAt: 'asc' },
    select: { number: true },
  });
}

export function runOwner(db: Queryable, number: number) {
  return db.run.findUnique({ where: { number }, select: { id: true, testerId: true, status: true } });
}
