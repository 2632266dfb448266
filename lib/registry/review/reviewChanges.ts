import type { Outcome } from '@/lib/protocol/rule';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { CHOICE_FIELDS, QUANTITY_FIELDS, type RunForm, unitFieldName } from '@/lib/run/fields';
import type { DossierRevision } from '@/lib/store/runPages';
import { isUnitCode, unitSymbol } from '@/lib/units/unit';

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

/** Chosen from lists by id: that another one was chosen is seen, which one stands in the facts of the run. */
const REFERENCES: Readonly<Record<string, string>> = {
  carId: 'Car',
  setupId: 'Setup',
  loopId: 'Loop',
};

const TEXTS: Readonly<Record<string, string>> = {
  cruiseClassKey: 'Cruise speed class',
  startedAtLocal: 'Start, local time',
  utcOffsetMin: 'Offset from UTC, minutes',
  stationReport: 'Station report',
  notes: 'Notes',
  isRetrospective: 'Entered later',
};

/** What a resubmission changed: entries as typed, outcomes of rules, photos and the number itself. */
export function revisionChanges(before: DossierRevision, after: DossierRevision): RevisionChanges {
  const photos = (revision: DossierRevision) => new Set(revision.evidence.map(({ evidence }) => evidence.id));
  const had = photos(before);
  const has = photos(after);
  return {
    fromNumber: before.number,
    // Written by the submission from the form's schema: a flat map of texts.
    entries: entryChanges(before.form as RunForm, after.form as RunForm),
    findings: findingChanges(before, after),
    photosAdded: [...has].filter((id) => !had.has(id)).length,
    photosTakenAway: [...had].filter((id) => !has.has(id)).length,
    normalisedBeforeWhPerKm: before.normalisations[0]?.normalisedWhPerKm ?? null,
    normalisedAfterWhPerKm: after.normalisations[0]?.normalisedWhPerKm ?? null,
  };
}

export function entryChanges(before: RunForm, after: RunForm): RevisionChange[] {
  const changes: RevisionChange[] = [];
  const compare = (key: string, label: string, read: (form: RunForm) => string) => {
    const [old, now] = [read(before), read(after)];
    if (old !== now) changes.push({ key, label, before: old, after: now });
  };
  for (const [key, label] of Object.entries(REFERENCES)) {
    if ((before[key] ?? '') !== (after[key] ?? ''))
      changes.push({ key, label, before: 'another one', after: 'as shown here' });
  }
  for (const [key, label] of Object.entries(TEXTS)) compare(key, label, (form) => form[key]?.trim() ?? '');
  for (const field of CHOICE_FIELDS) {
    compare(field.name, field.label, (form) => {
      const value = form[field.name] ?? '';
      return field.options.find((option) => option.value === value)?.label ?? value;
    });
  }
  for (const field of QUANTITY_FIELDS) {
    compare(field.quantity, field.label, (form) => {
      const text = form[field.quantity]?.trim() ?? '';
      const unit = form[unitFieldName(field.quantity)] ?? field.units[0];
      return text === '' ? '' : `${text} ${isUnitCode(unit) ? unitSymbol(unit) : unit}`;
    });
  }
  return changes;
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
