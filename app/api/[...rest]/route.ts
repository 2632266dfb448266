import { problemResponse } from '@/app/visitor/problem';
import { NotFound } from '@/lib/run/errors';

/** What is at no address of the interface: told to programs as they read it (RFC 9457), not as a page. */
function nothing(): Promise<Response> {
  return problemResponse(new NotFound('There is nothing at this address.'));
}

export { nothing as DELETE, nothing as GET, nothing as PATCH, nothing as POST, nothing as PUT };
