import { type ModelName, modelWords } from '@/lib/run/modelWords';
import { isNamedKind, type NamedKind, type SubjectRow, subjectRows } from '@/lib/store/auditSubjects';
import type { Database } from '@/lib/store/database';
import { nameWords } from '@/lib/trail/detailWords';

export interface Subject {
  words: string;
  /** Its own page, where it has one. */
  href: string | undefined;
}

interface Named {
  subjectKind: string;
  subjectId: string;
}

const WORDS: { [Kind in NamedKind]: (row: SubjectRow<Kind>) => Subject } = {
  account: ({ displayName, slug }) => ({ words: displayName, href: `/testers/${slug}` }),
  run: ({ number }) => ({ words: `run ${number}`, href: `/runs/${number}` }),
  trace: ({ run }) => ({ words: run ? `recording of run ${run.number}` : 'a recording', href: undefined }),
  car: ({ model, owner }) => ({
    words: `${modelWords(model)} of ${owner.displayName}`,
    href: undefined,
  }),
  loop: ({ name, slug }) => ({ words: name, href: `/loops/${slug}` }),
  model: (model) => ({ words: modelWords(model), href: `/models/${model.slug}` }),
  setup: ({ title, slug, model }) => ({ words: ofModel(title, model), href: `/setups/${slug}` }),
  factorLevel: ({ label, model }) => ({ words: ofModel(label, model), href: undefined }),
  sharedLevel: ({ words }) => ({ words, href: undefined }),
  protocolVersion: ({ label }) => ({ words: `protocol ${label}`, href: `/protocol/${label}` }),
  study: ({ slug, question }) => ({ words: question, href: `/studies/${slug}` }),
  request: ({ id, question }) => ({ words: question, href: `/requests/${id}` }),
  protocolDraft: ({ id, label }) => ({
    words: `protocol draft ${label}`,
    href: `/protocol-versions/drafts/${id}`,
  }),
  correction: ({ number }) => ({ words: `correction ${number}`, href: `/corrections/${number}` }),
  methodVersion: ({ label }) => ({ words: `method ${label}`, href: undefined }),
};

/** Kinds whose ids are words already. */
const BY_THEIR_ID = new Set(['act', 'list', 'comparisonGroup', 'otherRegistry']);
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/** What each entry of a page is about, by name or number: one query a kind. */
export async function subjectsOf(db: Database, entries: readonly Named[]): Promise<(of: Named) => Subject> {
  const found = new Map<string, Subject>();
  const kinds = new Set(entries.map(({ subjectKind }) => subjectKind).filter(isNamedKind));
  await Promise.all([...kinds].map((kind) => nameKind(db, kind, entries, found)));
  return ({ subjectKind, subjectId }) => {
    const named = found.get(`${subjectKind} ${subjectId}`);
    if (named) return named;
    const words = BY_THEIR_ID.has(subjectKind) ? nameWords(subjectId) : nameWords(subjectKind);
    return { words, href: undefined };
  };
}

async function nameKind<Kind extends NamedKind>(
  db: Database,
  kind: Kind,
  entries: readonly Named[],
  found: Map<string, Subject>,
): Promise<void> {
  const ids = entries.flatMap(({ subjectKind, subjectId }) =>
    subjectKind === kind && UUID.test(subjectId) ? subjectId : [],
  );
  for (const row of await subjectRows(db, kind, [...new Set(ids)]))
    found.set(`${kind} ${row.id}`, WORDS[kind](row));
}

function ofModel(words: string, model: ModelName): string {
  return `${words}, ${modelWords(model)}`;
}
