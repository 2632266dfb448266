import type { Metadata } from 'next';
import { PageHeader } from '@/app/ui/PageHeader';
import { ProveForm } from './ProveForm';

export const metadata: Metadata = { title: 'Confirm your address', referrer: 'no-referrer' };
export const dynamic = 'force-dynamic';

/** A button, as programs that look through letters open links by themselves and would use this one up. */
export default async function ProveAddressPage({
  searchParams,
}: {
  searchParams: Promise<{ token?: string | string[] }>;
}) {
  const { token } = await searchParams;
  return (
    <>
      <PageHeader
        title="Confirm your address"
        lead="The letter that brought you here was sent to the address of your account."
      />
      <ProveForm token={typeof token === 'string' ? token : ''} />
    </>
  );
}
