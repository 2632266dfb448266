import Link from 'next/link';
import SitePage from './SitePage';
import { LinkButton } from './ui/LinkButton';
import { PageHeader } from './ui/PageHeader';

export default function NotFoundPage() {
  return (
    <SitePage>
      <title>Not found · Evenloop</title>
      <PageHeader
        title="There is nothing at this address"
        lead="The page may have been moved, the address mistyped, or the thing is not public: a run is shown to readers once it is approved."
      />
      <ul className="space-y-2">
        <li>
          A run is found by its number in the{' '}
          <Link className="link" href="/runs">
            list of runs
          </Link>
          .
        </li>
        <li>
          Setups are found by their{' '}
          <Link className="link" href="/models">
            model
          </Link>
          , loops in the{' '}
          <Link className="link" href="/loops">
            list of loops
          </Link>
          .
        </li>
      </ul>
      <p className="mt-6">
        <LinkButton href="/">To the first page</LinkButton>
      </p>
    </SitePage>
  );
}
