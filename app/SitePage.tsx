import type { ReactNode } from 'react';
import { AccountMenu } from './account/AccountMenu';
import { SuspendedNotice } from './account/SuspendedNotice';
import { DisplayLine } from './ui/DisplayLine';
import { KeepFocus } from './ui/KeepFocus';
import { SiteFrame } from './ui/SiteFrame';
import { chosenDisplay } from './visitor/display';

/** The frame of the site with the visitor's own account and display: the layout of each group of pages but the field card. */
export default async function SitePage({ children }: { children: ReactNode }) {
  return (
    <SiteFrame account={<AccountMenu />} display={<DisplayLine display={await chosenDisplay()} />}>
      <KeepFocus />
      <SuspendedNotice />
      {children}
    </SiteFrame>
  );
}
