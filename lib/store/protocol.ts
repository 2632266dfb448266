import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { asJson } from './asJson';
import type { Queryable } from './database';

const VERSION = {
  id: true,
  label: true,
  status: true,
  parameters: true,
  summary: true,
  createdAt: true,
  adoptedAt: true,
  retiredAt: true,
} as const;

export function activeProtocolVersion(db: Queryable) {
  return db.protocolVersion.findFirst({ where: { status: 'active' }, select: VERSION });
}

/**
 * The version in force, held so until the transaction ends: publishing another waits. Undefined where another was
 * published while this waited, too: what was judged before is then of a version that is no longer in force.
 */
export async function holdActiveProtocol(tx: Queryable): Promise<string | undefined> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT "id"::text FROM "ProtocolVersion" WHERE "status" = 'active' FOR SHARE`;
  return rows[0]?.id;
}

export function protocolVersionById(db: Queryable, id: string) {
  return db.protocolVersion.findUniqueOrThrow({ where: { id }, select: VERSION });
}

export function protocolVersions(db: Queryable) {
  return db.protocolVersion.findMany({ orderBy: [{ createdAt: 'desc' }, { id: 'desc' }], select: VERSION });
}

/** Takes a version out of force; false where it no longer was. */
export async function retireProtocolVersion(db: Queryable, id: string, at: Date): Promise<boolean> {
  const { count } = await db.protocolVersion.updateMany({
    where: { id, status: 'active' },
    data: { status: 'retired', retiredAt: at },
  });
  return count === 1;
}

/** Puts a version in force, after the one before it was retired. */
export async function insertActiveProtocolVersion(
  db: Queryable,
  version: {
    label: string;
    summary: string;
    parameters: ProtocolParameters;
    createdById: string;
    at: Date;
  },
): Promise<string> {
  const { at, ...data } = version;
  const { id } = await db.protocolVersion.create({
    data: { ...data, parameters: asJson(data.parameters), status: 'active', createdAt: at, adoptedAt: at },
    select: { id: true },
  });
  return id;
}

/** Adds the version unless one of its label is there. */
export async function insertProtocolVersionOnce(
  db: Queryable,
  version: { label: string; summary: string; parameters: ProtocolParameters; at: Date },
): Promise<void> {
  await db.protocolVersion.createMany({
    data: {
      label: version.label,
      summary: version.summary,
      parameters: asJson(version.parameters),
      status: 'active',
      createdAt: version.at,
      adoptedAt: version.at,
    },
    skipDuplicates: true,
  });
}

export async function insertCruiseClasses(
  db: Queryable,
  classes: { key: string; label: string; speedMps: number; ordinal: number }[],
): Promise<void> {
  await db.cruiseClass.createMany({ data: classes, skipDuplicates: true });
}
