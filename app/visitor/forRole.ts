import { forbidden } from 'next/navigation';
import { NotAllowed } from '@/lib/run/errors';
import { noteRefusal } from './noteRefusal';

/** What a page of a role reads; to those without the role it answers 403 and says so. */
export async function forRole<View>(reading: Promise<View>): Promise<View> {
  try {
    return await reading;
  } catch (error) {
    await noteRefusal(error);
    if (error instanceof NotAllowed) forbidden();
    throw error;
  }
}
