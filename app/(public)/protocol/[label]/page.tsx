import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { registry } from '@/app/visitor/registry';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { isStorableText } from '@/lib/run/storableText';
import { ProtocolDocument } from '../ProtocolDocument';

export const dynamic = 'force-dynamic';

interface VersionPageProps {
  params: Promise<{ label: string }>;
}

/** A label out of an address; what is not encoded as one is taken as it stands, and names no version. */
function labelOf(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

export async function generateMetadata({ params }: VersionPageProps): Promise<Metadata> {
  const label = labelOf((await params).label);
  return pageMetadata('protocol', {
    title: `Protocol ${label}`,
    path: `/protocol/${encodeURIComponent(label)}`,
  });
}

export default async function ProtocolVersionPage({ params }: VersionPageProps) {
  const label = labelOf((await params).label);
  const view = isStorableText(label) ? await readProtocolPage(registry(), label) : undefined;
  if (view === undefined) notFound();
  return <ProtocolDocument view={view} />;
}
