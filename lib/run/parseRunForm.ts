import { z } from 'zod';
import { contradictions } from './contradictions';
import { cruiseClassByKey } from './cruiseClass';
import type { InputIssue } from './errors';
import { CHOICE_FIELDS, type Choices, QUANTITY_FIELDS, TEXT_FIELDS } from './fields/table';
import { ID_FIELDS, isChosenId } from './formIds';
import { parseLocalStart } from './localStart';
import { parseChoices, parseQuantities, parseTexts } from './parseFields';
import type { RunForm } from './runForm';
import type { RunRecord } from './runRecord';
import { isStorableText } from './storableText';
import { missingTogether } from './together';

/** Field names are ours: none of them is a name that every object has. */
const FIELD_NAME = /^[a-z][A-Za-z0-9]{0,59}$/;

function isFieldName(name: string): boolean {
  return FIELD_NAME.test(name) && !(name in Object.prototype);
}

/** What comes over the wire: a flat map of short texts. The bound keeps a hostile body small. */
export const runFormSchema = z
  .custom<object>(
    (sent) => typeof sent !== 'object' || sent === null || Object.keys(sent).every(isFieldName),
    'A field has a name that is none. | The form has no such field. | Open the form anew and send it again.',
  )
  .pipe(z.record(z.string(), z.string().max(4000)))
  .refine((form) => Object.keys(form).length <= 200, 'too many fields')
  .refine((form) => Object.values(form).every(isStorableText), {
    message: 'A text holds a character that cannot be kept. | No keyboard types it. | Type the text again.',
  })
  .check((context) => {
    for (const name of ID_FIELDS) {
      const text = context.value[name] ?? '';
      if (text.trim() === '' || isChosenId(text)) continue;
      context.issues.push({
        code: 'custom',
        path: [name],
        input: text,
        message:
          'This is not one of the choices. | It names nothing in this registry. | Choose it from the list.',
      });
    }
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

function parseIds(form: RunForm, issues: InputIssue[]) {
  const required = (name: string, label: string): string => {
    const value = (form[name] ?? '').trim();
    if (!isChosenId(value)) {
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
