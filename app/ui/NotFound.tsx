import { Link } from './Link';
import { LinkButton } from './LinkButton';
import { PageHeader } from './PageHeader';

/** In place of a page that is not there (404), within the frame of the pages about it. */
export default function NotFound() {
  return (
    <>
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
    </>
  );
}
