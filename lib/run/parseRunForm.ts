import { z } from 'zod';
import { contradictions } from './contradictions';
import { cruiseClassByKey } from './cruiseClass';
import type { InputIssue } from './errors';
import { CHOICE_FIELDS, type Choices, QUANTITY_FIELDS, TEXT_FIELDS } from './fields/table';
import { parseLocalStart } from './localStart';
import { parseChoices, parseQuantities, parseTexts } from './parseFields';
import type { RunForm } from './runForm';
import type { RunRecord } from './runRecord';
import { missingTogether } from './together';

/** What comes over the wire: a flat map of short texts. The bound keeps a hostile body small. */
export const runFormSchema = z
  .record(z.string().max(60), z.string().max(4000))
  .refine((form) => Object.keys(form).length <= 200, 'too many fields')
  // PostgreSQL keeps no NUL in a text.
  .refine((form) => !Object.entries(form).some((entry) => entry.some((text) => text.includes('\0'))), {
    message: 'A text holds a NUL character. | No keyboard types one. | Type the text again.',
  });

export type ParsedRunForm = { ok: true; record: RunRecord } | { ok: false; issues: InputIssue[] };

export interface ParseContext {
  /** The instant of parsing, ISO 8601: a run cannot lie after it. */
  now: string;
}

/**
 * Turns the form as typed into a run record in canonical units, or into one issue per field:
 * what is wrong, why, and what to do.
 */
export function parseRunForm(form: RunForm, context: ParseContext): ParsedRunForm {
  const issues: InputIssue[] = [];
  const readings = parseQuantities(QUANTITY_FIELDS, form, issues);
  // Checked against the options that the type is made of; what is required and missing is among the issues.
  const choices = parseChoices(CHOICE_FIELDS, form, issues) as Choices;
  const ids = parseIds(form, issues);
  const start = parseLocalStart(form.startedAtLocal ?? '', form.utcOffsetMin ?? '', context.now, issues);
  issues.push(...missingTogether(readings, choices, issues));
  issues.push(...contradictions(readings));
  if (issues.length > 0 || start === undefined) return { ok: false, issues };
  const texts = parseTexts(TEXT_FIELDS, form);
  return {
    ok: true,
    record: {
      ...ids,
      ...start,
      readings,
      ...choices,
      ...texts,
      stationReport: texts.stationReport,
      notes: texts.notes ?? '',
      isRetrospective: form.isRetrospective === 'yes',
    },
  };
}

const ID = z.uuid();

function parseIds(form: RunForm, issues: InputIssue[]) {
  const required = (name: string, label: string): string => {
    const value = (form[name] ?? '').trim();
    if (!ID.safeParse(value).success) {
      issues.push({
        path: name,
        what: `No ${label} chosen.`,
        why: 'A run belongs to one car, one setup and one loop.',
        fix: `Choose the ${label}; add it first if it is not in the list.`,
      });
    }
    return value;
  };
  const cruiseClassKey = (form.cruiseClassKey ?? '').trim();
  if (cruiseClassByKey(cruiseClassKey) === undefined) {
    issues.push({
      path: 'cruiseClassKey',
      what: 'No cruise speed class chosen.',
      why: 'Only runs of one speed class are compared.',
      fix: 'Choose the true speed that you meant to hold.',
    });
  }
  return {
    carId: required('carId', 'car'),
    setupId: required('setupId', 'setup'),
    loopId: required('loopId', 'loop'),
    cruiseClassKey,
  };
}
