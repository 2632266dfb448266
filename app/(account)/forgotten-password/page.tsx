import type { Metadata } from 'next';
import { PageHeader } from '@/app/ui/PageHeader';
import { ForgottenForm } from './ForgottenForm';

export const metadata: Metadata = { title: 'Forgotten password' };

export default function ForgottenPasswordPage() {
  return (
    <>
      <PageHeader
        title="Forgotten password"
        lead="A letter with a link to a new one is sent to the address of your account. If none comes, whoever runs this registry can see whether it was sent."
      />
      <ForgottenForm />
    </>
  );
}
