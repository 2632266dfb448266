import type { Metadata } from 'next';
import { idOrNotFound } from '@/app/(tester)/readView';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { writeParameter } from '@/lib/protocol/parameterFields';
import { readDraftPart } from '@/lib/registry/protocol/drafts/draft';
import { unitSymbol } from '@/lib/units/unit';
import { readDraftView } from '../../../readDraftView';
import { LimitsForm, type ShownLimit } from './LimitsForm';

export const metadata: Metadata = { title: 'Limits of a draft' };
export const dynamic = 'force-dynamic';

interface LimitsPageProps {
  params: Promise<{ draftId: string; part: string }>;
}

export default async function LimitsPage({ params }: LimitsPageProps) {
  const { draftId: text, part } = await params;
  const draftId = idOrNotFound(text);
  const path = `/protocol-versions/drafts/${draftId}`;
  const actor = await requireSignedIn(`${path}/limits/${part}`);
  const view = await readDraftView(readDraftPart(registry(), actor, { draftId, slug: part }));
  const { draft, form, inForce } = view;
  const shown = (entry: (typeof form.entries)[number]): ShownLimit => {
    const { name, afterwardsName, text: value, afterwards, label, unit, kind, options, section, key } = entry;
    const now = inForce.sections[section]?.[key];
    return {
      name,
      afterwardsName,
      text: value,
      afterwards,
      label: unit === '' ? label : `${label}, ${unitSymbol(unit)}`,
      kind,
      options: options.map((option) => ({ value: option, label: writeParameter(option, entry) })),
      now:
        now === undefined
          ? `Not stated in ${inForce.label}`
          : `${writeParameter(now, entry)} in ${inForce.label}`,
    };
  };
  return (
    <>
      <PageHeader
        title={`${view.title}: limits of draft ${draft.label}`}
        breadcrumbs={[
          { label: 'Protocol versions', href: '/protocol-versions' },
          { label: draft.label, href: path },
          { label: view.title },
        ]}
        lead="A rule that is not ticked is left out: runs get no finding by it. Limits for runs recorded afterwards are entered only where they differ."
      />
      {draft.state === 'draft' && draft.mayEdit ? (
        <LimitsForm
          draftId={draftId}
          revision={draft.revision}
          part={part}
          rules={form.rules.map(({ rule, name, isIn, isAlwaysIn, entries }) => ({
            id: rule.id,
            title: rule.title,
            why: rule.why,
            name,
            isIn,
            isAlwaysIn,
            limits: entries.map(shown),
          }))}
          limits={form.entries.map(shown)}
        />
      ) : (
        <Notice kind="info" title="Nothing of this version can be changed here." />
      )}
    </>
  );
}
