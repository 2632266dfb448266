import type { Metadata } from 'next';
import RootLayout, { metadata as ofSite } from './layout';
import SitePage from './SitePage';
import NotFound from './ui/NotFound';

export { generateViewport } from './layout';
export const metadata: Metadata = { ...ofSite, title: 'Not found · Evenloop' };

/** An address that no page has. A whole document of its own, which no other page then has to carry along. */
export default function GlobalNotFound() {
  return (
    <RootLayout>
      <SitePage>
        <NotFound />
      </SitePage>
    </RootLayout>
  );
}
