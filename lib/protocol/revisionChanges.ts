import { type EntryChange, entryChanges } from '@/lib/run/fields/entryChanges';
import type { RunForm } from '@/lib/run/runForm';
import type { Outcome } from './rule';
import { wordsOfRule } from './rules/allRules';

export interface RevisionChanges {
  fromNumber: number;
  entries: EntryChange[];
  findings: { ruleId: string; title: string; before: Outcome | null; after: Outcome | null }[];
  photosAdded: number;
  photosTakenAway: number;
  normalisedBeforeWhPerKm: number | null;
  normalisedAfterWhPerKm: number | null;
}

/** A revision as it is kept, as far as two are held against each other. */
interface KeptRevision {
  number: number;
  form: RunForm;
  evidence: readonly { evidence: { id: string } }[];
  findings: readonly { ruleId: string; outcome: Outcome }[];
  /** The newest first. */
  normalisations: readonly { normalisedWhPerKm: number | null }[];
}

/** What a resubmission changed: entries as typed, outcomes of rules, photos and the number itself. */
export function revisionChanges(before: KeptRevision, after: KeptRevision): RevisionChanges {
  const photos = (revision: KeptRevision) => new Set(revision.evidence.map(({ evidence }) => evidence.id));
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

function findingChanges(before: KeptRevision, after: KeptRevision): RevisionChanges['findings'] {
  const outcomes = (revision: KeptRevision) =>
    new Map(revision.findings.map((finding) => [finding.ruleId, finding.outcome]));
  const old = outcomes(before);
  const now = outcomes(after);
  return [...new Set([...old.keys(), ...now.keys()])].flatMap((ruleId) => {
    const [was, is] = [old.get(ruleId) ?? null, now.get(ruleId) ?? null];
    if (was === is) return [];
    return [{ ruleId, title: wordsOfRule(ruleId).title, before: was, after: is }];
  });
}
