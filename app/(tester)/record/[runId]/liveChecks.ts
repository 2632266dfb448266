import { checkConsistency, inconsistentChecks } from '@/lib/capture/consistency';
import { quantityOf, typedReadings } from '@/lib/capture/formReadings';
import { findMisreads, readTyped } from '@/lib/capture/misread';
import { displayReadings } from '@/lib/reduction/displayReadings';
import type { InputIssue } from '@/lib/run/errors';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import type { Display } from '@/lib/units/display';
import { sayFound } from '@/lib/units/said';

export interface LiveChecks {
  /** Under the name of the field that a remark belongs to. */
  remarks: Readonly<Record<string, readonly string[]>>;
  /** What does not fit together, one sentence a check. */
  disagreements: readonly string[];
  /** Which slip would explain it, the likeliest first. */
  slips: readonly string[];
}

/** More than this many equally likely slips name nothing. */
const MOST_SLIPS = 3;

/**
 * The same cross-checks as at submission, run on what is typed so far. They only remark: a run whose numbers
 * disagree can be submitted and is then judged by the protocol.
 */
export function liveChecks(
  form: RunForm,
  now: string,
  display: Display,
  usableCapacityWh?: number,
): LiveChecks {
  const remarks: Record<string, string[]> = {};
  const remark = (name: string, text: string) => {
    remarks[name] = [...(remarks[name] ?? []), text];
  };
  for (const issue of issuesSoFar(form, now)) remark(issue.path, `${issue.what} ${issue.fix}`);

  const typed = typedReadings(form);
  const { usableCapacityWh: capacity } = displayReadings({}, usableCapacityWh);
  const known = capacity === undefined ? {} : { usableCapacityWh: capacity };
  const failed = inconsistentChecks(checkConsistency({ ...known, ...readTyped(typed).readings }));
  const slips = findMisreads(typed, known).slice(0, MOST_SLIPS);
  for (const slip of slips) {
    const quantity = quantityOf(slip.reading);
    if (quantity !== undefined) remark(quantity, slip.sentence);
  }
  return {
    remarks,
    disagreements: failed.map((check) => sayFound(check, display)),
    slips: slips.map((slip) => slip.sentence),
  };
}

/** What is wrong with fields that hold something; what is merely missing so far is not remarked on. */
export function issuesSoFar(form: RunForm, now: string): InputIssue[] {
  const parsed = parseRunForm(form, { now });
  if (parsed.ok) return [];
  return parsed.issues.filter((issue) => (form[issue.path] ?? '').trim() !== '');
}
