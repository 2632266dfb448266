import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { registry } from '@/app/visitor/registry';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { ProtocolDocument } from '../ProtocolDocument';

export const dynamic = 'force-dynamic';

interface VersionPageProps {
  params: Promise<{ label: string }>;
}

export async function generateMetadata({ params }: VersionPageProps): Promise<Metadata> {
  return { title: `Protocol ${decodeURIComponent((await params).label)}` };
}

export default async function ProtocolVersionPage({ params }: VersionPageProps) {
  const view = await readProtocolPage(registry(), decodeURIComponent((await params).label));
  if (view === undefined) notFound();
  return <ProtocolDocument view={view} />;
}
