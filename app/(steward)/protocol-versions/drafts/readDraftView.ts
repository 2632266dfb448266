import { notFound } from 'next/navigation';
import { forRole } from '@/app/visitor/forRole';
import { NotFound } from '@/lib/run/errors';

/** What a page of a draft reads: 403 to those without the role, 404 where there is no such draft. */
export async function readDraftView<View>(reading: Promise<View>): Promise<View> {
  try {
    return await forRole(reading);
  } catch (error) {
    if (error instanceof NotFound) notFound();
    throw error;
  }
}
