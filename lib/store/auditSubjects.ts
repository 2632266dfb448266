import type { Queryable } from './database';
import { MODEL_NAME, PERSON } from './names';

/** What entries are about, by kind, under the ids that a page of them names. */
const READS = {
  account: (db: Queryable, ids: string[]) =>
    db.account.findMany({ where: { id: { in: ids } }, select: { id: true, ...PERSON } }),
  run: (db: Queryable, ids: string[]) =>
    db.run.findMany({ where: { id: { in: ids } }, select: { id: true, number: true } }),
  trace: (db: Queryable, ids: string[]) =>
    db.trace.findMany({
      where: { id: { in: ids } },
      select: { id: true, run: { select: { number: true } } },
    }),
  car: (db: Queryable, ids: string[]) =>
    db.car.findMany({
      where: { id: { in: ids } },
      select: { id: true, model: { select: MODEL_NAME }, owner: { select: PERSON } },
    }),
  loop: (db: Queryable, ids: string[]) =>
    db.loop.findMany({ where: { id: { in: ids } }, select: { id: true, slug: true, name: true } }),
  model: (db: Queryable, ids: string[]) =>
    db.vehicleModel.findMany({ where: { id: { in: ids } }, select: { id: true, ...MODEL_NAME } }),
  setup: (db: Queryable, ids: string[]) =>
    db.setup.findMany({
      where: { id: { in: ids } },
      select: { id: true, slug: true, title: true, model: { select: MODEL_NAME } },
    }),
  factorLevel: (db: Queryable, ids: string[]) =>
    db.factorLevel.findMany({
      where: { id: { in: ids } },
      select: { id: true, label: true, model: { select: MODEL_NAME } },
    }),
  sharedLevel: (db: Queryable, ids: string[]) =>
    db.sharedLevel.findMany({ where: { id: { in: ids } }, select: { id: true, words: true } }),
  protocolVersion: (db: Queryable, ids: string[]) =>
    db.protocolVersion.findMany({ where: { id: { in: ids } }, select: { id: true, label: true } }),
  protocolDraft: (db: Queryable, ids: string[]) =>
    db.protocolDraft.findMany({ where: { id: { in: ids } }, select: { id: true, label: true } }),
  correction: (db: Queryable, ids: string[]) =>
    db.correction.findMany({ where: { id: { in: ids } }, select: { id: true, number: true } }),
  study: (db: Queryable, ids: string[]) =>
    db.study.findMany({ where: { id: { in: ids } }, select: { id: true, slug: true, question: true } }),
  request: (db: Queryable, ids: string[]) =>
    db.testRequest.findMany({ where: { id: { in: ids } }, select: { id: true, question: true } }),
  methodVersion: (db: Queryable, ids: string[]) =>
    db.methodVersion.findMany({ where: { id: { in: ids } }, select: { id: true, label: true } }),
};

export type NamedKind = keyof typeof READS;
export type SubjectRow<Kind extends NamedKind> = Awaited<ReturnType<(typeof READS)[Kind]>>[number];

export function isNamedKind(kind: string): kind is NamedKind {
  return Object.hasOwn(READS, kind);
}

export function subjectRows<Kind extends NamedKind>(
  db: Queryable,
  kind: Kind,
  ids: string[],
): Promise<SubjectRow<Kind>[]> {
  return READS[kind](db, ids) as Promise<SubjectRow<Kind>[]>;
}
