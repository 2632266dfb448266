import { localPath } from '@/app/(account)/sign-in/localPath';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { signedIn } from '@/app/visitor/actor';
import { chosenDisplay } from '@/app/visitor/display';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { one, type SearchParams } from '../rankings/query';
import { DisplayForm } from './DisplayForm';

export const metadata = pageMetadata('display');
export const dynamic = 'force-dynamic';

export default async function DisplayPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const back = one(await searchParams, 'back');
  const chosen = (await chosenDisplay()) ?? DEFAULT_PREFERENCES;
  const isSignedIn = (await signedIn()) !== undefined;
  return (
    <>
      <PageHeader
        title="Units and display"
        lead={`Kept for every page, figure and file, ${
          isSignedIn ? 'with your account and in this browser' : 'in this browser, without an account'
        }. Readings stay in the unit that a display showed them in.`}
      />
      <DisplayForm chosen={chosen} back={localPath(back, '/')} />
    </>
  );
}
