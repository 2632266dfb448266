import NextLink from 'next/link';
import type { ComponentProps } from 'react';

/**
 * A link within the site that asks for its page when it is followed. The framework's own asks twice for every link in
 * view before that, some twenty requests a page, and of a page that is made for each reader gets nothing but its frame.
 */
export function Link(props: Omit<ComponentProps<typeof NextLink>, 'prefetch'>) {
  return <NextLink {...props} prefetch={false} />;
}
