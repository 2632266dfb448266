import { Link } from '@/app/ui/Link';

/**
 * Where not even a frame of the site was begun. Every page carries it along, so it is small: what people see of an
 * address that is not there is `ui/NotFound.tsx`.
 */
export default function NotFoundAtAll() {
  return (
    <main className="p-6">
      <h1>There is nothing at this address</h1>
      <Link className="link" href="/">
        To the first page
      </Link>
    </main>
  );
}
