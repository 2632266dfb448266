import { type FormState, text } from '@/app/ui/forms/formState';

export interface PostedDecision {
  runId: string;
  revisionNumber: number;
  kind: string | undefined;
  note: string;
  reasons: { ruleId: string; text: string }[];
}

export const citeField = (ruleId: string) => `cite-${ruleId}`;
export const reasonField = (ruleId: string) => `reason-${ruleId}`;

/** A decision as its form posts it: a reason is given where its box is ticked, the text stands beside it. */
export function decisionOf(data: FormData): PostedDecision {
  const kind = text(data, 'kind') || undefined;
  return {
    runId: text(data, 'runId'),
    revisionNumber: Number(text(data, 'revisionNumber')),
    kind,
    note: text(data, 'note'),
    // An approval stands on its own; reasons that were prefilled are not part of it.
    reasons:
      kind === 'approve'
        ? []
        : citedRules(data).map(({ ruleId, field }) => ({ ruleId, text: text(data, field) })),
  };
}

/** The use case numbers the reasons; the form names their fields by rule. */
export function onFields(refusal: FormState, data: FormData): FormState {
  const cited = citedRules(data);
  return {
    ...refusal,
    issues: refusal.issues.map((issue) => {
      const index = /^reasons\.(\d+)\./.exec(issue.path)?.[1];
      const field = index === undefined ? undefined : cited[Number(index)]?.field;
      return field === undefined ? issue : { ...issue, path: field };
    }),
  };
}

/** The rules named in the form, each with the field that holds its text. */
function citedRules(data: FormData): { ruleId: string; field: string }[] {
  const prefix = citeField('');
  const cited = [...data.keys()]
    .filter((name) => name.startsWith(prefix))
    .map((name) => name.slice(prefix.length))
    .map((ruleId) => ({ ruleId, field: reasonField(ruleId) }));
  const other = text(data, 'otherRule');
  return other === '' ? cited : [...cited, { ruleId: other, field: 'otherReason' }];
}
