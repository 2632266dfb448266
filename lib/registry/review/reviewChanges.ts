import type { Outcome } from '@/lib/protocol/rule';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { type FieldEntry, inSectionOrder } from '@/lib/run/fields/entry';
import { typedWords, valueWords } from '@/lib/run/fields/fieldWords';
import { RUN_FIELDS } from '@/lib/run/fields/table';
import type { RunForm } from '@/lib/run/runForm';
import type { DossierRevision } from '@/lib/store/runPages';

/** One thing that reads otherwise than in the revision before. */
export interface RevisionChange {
  key: string;
  label: string;
  before: string;
  after: string;
}

export interface RevisionChanges {
  fromNumber: number;
  entries: RevisionChange[];
  findings: { ruleId: string; title: string; before: Outcome | null; after: Outcome | null }[];
  photosAdded: number;
  photosTakenAway: number;
  normalisedBeforeWhPerKm: number | null;
  normalisedAfterWhPerKm: number | null;
}

/** What a resubmission changed: entries as typed, outcomes of rules, photos and the number itself. */
export function revisionChanges(before: DossierRevision, after: DossierRevision): RevisionChanges {
  const photos = (revision: DossierRevision) => new Set(revision.evidence.map(({ evidence }) => evidence.id));
  const had = photos(before);
  const has = photos(after);
  return {
    fromNumber: before.number,
    entries: entryChanges(before.form, after.form),
    findings: findingChanges(before, after),
    photosAdded: [...has].filter((id) => !had.has(id)).length,
    photosTakenAway: [...had].filter((id) => !has.has(id)).length,
    normalisedBeforeWhPerKm: before.normalisations[0]?.normalisedWhPerKm ?? null,
    normalisedAfterWhPerKm: after.normalisations[0]?.normalisedWhPerKm ?? null,
  };
}

export function entryChanges(before: RunForm, after: RunForm): RevisionChange[] {
  return inSectionOrder<FieldEntry>(RUN_FIELDS).flatMap((field) => {
    const [old, now] = [wordsOf(field, before), wordsOf(field, after)];
    if (old === now) return [];
    const entry = { key: field.name, label: field.shortLabel ?? field.label };
    // An id means nothing to a reader: which one stands in the run is among its facts.
    return isById(field)
      ? [{ ...entry, before: 'another one', after: 'as shown here' }]
      : [{ ...entry, before: old, after: now }];
  });
}

function wordsOf(field: FieldEntry, form: RunForm): string {
  return field.kind === 'quantity'
    ? typedWords(form, field)
    : valueWords(field.name, form[field.name]?.trim() ?? '');
}

function isById(field: FieldEntry): boolean {
  return field.kind === 'subject' && field.of !== 'cruiseClass';
}

function findingChanges(before: DossierRevision, after: DossierRevision): RevisionChanges['findings'] {
  const outcomes = (revision: DossierRevision) =>
    new Map(revision.findings.map((finding) => [finding.ruleId, finding.outcome]));
  const old = outcomes(before);
  const now = outcomes(after);
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((ruleId) => {
    const [was, is] = [old.get(ruleId) ?? null, now.get(ruleId) ?? null];
    if (was === is) return [];
    return [{ ruleId, title: wordsOfRule(ruleId).title, before: was, after: is }];
  });
}
