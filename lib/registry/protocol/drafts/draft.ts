import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { differencesBetween, type VersionDifferences } from '@/lib/protocol/compareVersions';
import { FURTHER, LIMIT_PARTS, type LimitForm, limitForm } from '@/lib/protocol/draft/limitForm';
import { type ProtocolParameters, sectionsFor } from '@/lib/protocol/parameters';
import type { Person } from '@/lib/protocol/runTrail';
import { safeReadStoredParameters } from '@/lib/protocol/stored';
import { NotFound } from '@/lib/run/errors';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { dryRunOf } from '@/lib/store/dryRuns';
import { listDrafts, type StoredDraft } from '@/lib/store/protocolDrafts';
import type { Registry } from '../../registry';
import { progressOfJob, type WorkProgress } from '../../work/progress';
import { type ActiveProtocol, activeProtocol } from '../activeProtocol';
import { DRY_RUN_JOB } from './dryRun';
import { requireDraft } from './editDraft';

export type DraftState = 'draft' | 'announced' | 'published';

export interface DraftListed {
  id: string;
  label: string;
  summary: string;
  state: DraftState;
  basedOn: string;
  createdBy: Person;
  createdAt: string;
  editedAt: string;
  /** The day from whose beginning on it is to hold, where one is announced. */
  from: string | undefined;
  announcedBy: Person | null;
}

export interface DraftView extends DraftListed {
  revision: number;
  /** A demo account reads it, and changes nothing. */
  mayEdit: boolean;
  inForce: { id: string; label: string };
  differences: VersionDifferences;
  /** Its parts with how many rules each judges by, of how many. */
  parts: { slug: string; title: string; rules: number; of: number }[];
  dryRun:
    | {
        askedAt: string;
        finishedAt: string | undefined;
        /** Of the draft as it is now, against the version that is in force now. */
        isOfDraft: boolean;
        against: string;
        isAgainstInForce: boolean;
      }
    | undefined;
  progress: WorkProgress | null;
  /** The first day that it can be announced for. */
  tomorrow: string;
}

const MOST_DRAFTS = 50;

/** Drafts, the newest first, for the page of versions. */
export async function readDrafts(registry: Registry, actor: Actor | undefined): Promise<DraftListed[]> {
  authorise(actor, 'manageProtocol');
  return (await listDrafts(registry.db, MOST_DRAFTS)).map(listed);
}

/** One draft with what it changes, its dry run and when it comes into force. */
export async function readDraft(
  registry: Registry,
  actor: Actor | undefined,
  draftId: string,
): Promise<DraftView> {
  authorise(actor, 'manageProtocol');
  const draft = await requireDraft(registry.db, draftId);
  const [active, dryRun, progress] = await Promise.all([
    activeProtocol(registry),
    dryRunOf(registry.db, draftId),
    progressOfJob(registry.db, DRY_RUN_JOB, draftId),
  ]);
  const parameters = parametersOf(draft);
  return {
    ...listed(draft),
    revision: draft.revision,
    mayEdit: may(actor, 'manageProtocol', undefined, RECORD),
    inForce: { id: active.id, label: active.label },
    differences: differencesBetween(active, { label: draft.label, parameters }),
    parts: [...LIMIT_PARTS].map(([slug, part]) => {
      const { rules } = limitForm(parameters, part);
      const title = part === FURTHER ? 'Ranking and second looks' : part;
      return { slug, title, rules: rules.filter(({ isIn }) => isIn).length, of: rules.length };
    }),
    dryRun: dryRun === null ? undefined : dryRunState(dryRun, draft, active),
    progress: dryRun?.finishedAt === null ? progress : null,
    tomorrow: dateText(new Date(registry.now().getTime() + 24 * 60 * 60 * 1000)),
  };
}

function dryRunState(
  { revision, askedAt, finishedAt, against }: NonNullable<Awaited<ReturnType<typeof dryRunOf>>>,
  draft: StoredDraft,
  active: ActiveProtocol,
): NonNullable<DraftView['dryRun']> {
  return {
    askedAt: askedAt.toISOString(),
    finishedAt: finishedAt?.toISOString(),
    isOfDraft: revision === draft.revision,
    against: against.label,
    isAgainstInForce: against.id === active.id,
  };
}

export interface DraftPartView {
  draft: Pick<DraftView, 'id' | 'label' | 'state' | 'revision' | 'mayEdit'>;
  title: string;
  form: LimitForm;
  /** What the version in force states, by the path of each limit. */
  inForce: { label: string; sections: ReturnType<typeof sectionsFor> };
}

/** The form of one part of a draft’s limits. */
export async function readDraftPart(
  registry: Registry,
  actor: Actor | undefined,
  { draftId, slug }: { draftId: string; slug: string },
): Promise<DraftPartView> {
  authorise(actor, 'manageProtocol');
  const part = LIMIT_PARTS.get(slug);
  if (part === undefined) throw new NotFound('There is no such part of a protocol.');
  const [draft, active] = await Promise.all([requireDraft(registry.db, draftId), activeProtocol(registry)]);
  const { id, label, state } = listed(draft);
  return {
    draft: {
      id,
      label,
      state,
      revision: draft.revision,
      mayEdit: may(actor, 'manageProtocol', undefined, RECORD),
    },
    title: part === FURTHER ? 'Ranking and second looks' : part,
    form: limitForm(parametersOf(draft), part),
    inForce: { label: active.label, sections: sectionsFor(active.parameters, false) },
  };
}

/** A draft is written by this release or one before; where neither can read it, nothing can be done with it. */
function parametersOf({ label, parameters }: StoredDraft): ProtocolParameters {
  const read = safeReadStoredParameters(parameters);
  if (!read.ok) throw new NotFound(`This release of the registry cannot read the limits of draft ${label}.`);
  return read.parameters;
}

function listed(draft: StoredDraft): DraftListed {
  const { id, label, summary, basedOn, createdBy, announcedBy } = draft;
  const isPublished = draft.publishedAsId !== null;
  return {
    id,
    label,
    summary,
    state: isPublished ? 'published' : draft.activateAt === null ? 'draft' : 'announced',
    basedOn: basedOn.label,
    createdBy,
    createdAt: draft.createdAt.toISOString(),
    editedAt: draft.editedAt.toISOString(),
    from: draft.activateAt === null ? undefined : dateText(draft.activateAt),
    announcedBy,
  };
}
