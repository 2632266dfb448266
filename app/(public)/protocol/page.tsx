import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { registry } from '@/app/session/registry';
import { readProtocolPage } from '@/lib/registry/views/protocolPage';
import { ProtocolDocument } from './ProtocolDocument';

export const metadata: Metadata = { title: 'Protocol' };
export const dynamic = 'force-dynamic';

export default async function ProtocolPage() {
  const view = await readProtocolPage(registry());
  if (view === undefined) notFound();
  return <ProtocolDocument view={view} />;
}
