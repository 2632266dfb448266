import { notFound } from 'next/navigation';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { registry } from '@/app/visitor/registry';
import { readProtocolPage } from '@/lib/registry/protocol/protocolPage';
import { ProtocolDocument } from './ProtocolDocument';

export const metadata = pageMetadata('protocol');
export const dynamic = 'force-dynamic';

export default async function ProtocolPage() {
  const view = await readProtocolPage(registry());
  if (view === undefined) notFound();
  return <ProtocolDocument view={view} />;
}
