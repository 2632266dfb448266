import type { ReactNode } from 'react';
import { KeepFocus } from '@/app/ui/KeepFocus';

/** The field card's own shell: a phone beside the road has no room for the site's header and footer. */
export default function FieldLayout({ children }: { children: ReactNode }) {
  return (
    <main id="main" tabIndex={-1} className="mx-auto w-full max-w-[34rem] flex-1 px-4 pt-3">
      <KeepFocus />
      {children}
    </main>
  );
}
