'use client';

import { startTransition, useEffect, useState } from 'react';
import { buttonClass } from '@/app/ui/buttonClass';
import { Link } from '@/app/ui/Link';
import { Minute } from '@/app/ui/When';
import type { Notice } from '@/lib/registry/accounts/notifications';
import { markRead } from './actions';

/**
 * Opening the list marks its notices read. A page that is only fetched ahead does not run this, so nothing is marked
 * that nobody saw; without scripts there is a button. What was new on opening stays marked new while one looks.
 */
export function NoticeList({ notices }: { notices: readonly Notice[] }) {
  const [shown] = useState(notices);
  const hasNew = shown.some((notice) => !notice.isRead);
  useEffect(() => {
    if (hasNew) startTransition(() => markRead());
  }, [hasNew]);
  return (
    <>
      <ul className="max-w-[46rem]">
        {shown.map((notice) => (
          <li key={notice.id} className="border-b border-rule py-3">
            <Link href={notice.href} className={`link ${notice.isRead ? '' : 'font-semibold'}`}>
              {notice.text}
            </Link>
            <p className="num text-sm text-ink-soft">
              <Minute at={notice.at} />
              {notice.isRead ? '' : ' · new'}
            </p>
          </li>
        ))}
      </ul>
      {hasNew ? (
        <noscript>
          <form action={markRead}>
            <button type="submit" className={buttonClass('secondary')}>
              Mark all as read
            </button>
          </form>
        </noscript>
      ) : null}
    </>
  );
}
