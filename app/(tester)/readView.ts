import { notFound } from 'next/navigation';
import { noteRefusal } from '@/app/visitor/noteRefusal';
import { problemOf } from '@/app/visitor/problem';

/**
 * What a page reads, or the page that says it does not exist: to someone who may not see a thing, it does not.
 */
export async function readView<View>(reading: Promise<View>): Promise<View> {
  try {
    return await reading;
  } catch (error) {
    problemOf(error);
    await noteRefusal(error);
    notFound();
  }
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/** An id out of an address; anything else is no page. */
export function idOrNotFound(text: string): string {
  if (!UUID.test(text)) notFound();
  return text;
}

/** An id out of a query, or nothing. */
export function idOrNothing(text: string | string[] | undefined): string | undefined {
  return typeof text === 'string' && UUID.test(text) ? text : undefined;
}
