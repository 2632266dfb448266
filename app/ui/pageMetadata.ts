import type { Metadata } from 'next';
import { feedPath } from '@/app/feeds/feedPath';
import { publicAddress } from '@/app/runDossier/publicAddress';
import { type FigureAddress, figureHref } from './figures/figureAddress';
import { type PageName, wordsOfPage } from './pageWords';

interface OwnWords {
  title: string;
  description?: string;
  path: string;
  /** The figure that a shared link shows; a card with the page's words otherwise. */
  figure?: FigureAddress | undefined;
  /** The page has a live figure: the address at which programs ask how to show it (oEmbed 1.0, section 4). */
  oembed?: string | undefined;
  /** It has a feed of what is new. */
  hasFeed?: boolean;
}

/** Title, description and the picture of a shared link: for every public page from here. */
export function pageMetadata(name: PageName, own?: OwnWords): Metadata {
  const words = { ...wordsOfPage(name), ...own };
  const image = figureHref(own?.figure ?? { kind: 'card', key: name }, 'png', { shape: 'share' });
  const { title, description } = words;
  return {
    // The home page's title stands alone.
    ...(name === 'home' ? {} : { title }),
    description,
    alternates: {
      types: {
        ...(own?.oembed === undefined ? {} : { 'application/json+oembed': [{ url: own.oembed, title }] }),
        ...(own?.hasFeed || name === 'home'
          ? { 'application/atom+xml': [{ url: publicAddress(feedPath(words.path)), title }] }
          : {}),
      },
    },
    openGraph: {
      siteName: 'Evenloop',
      type: 'website',
      title,
      description,
      url: publicAddress(words.path),
      images: [{ url: publicAddress(image), width: 1200, height: 630, type: 'image/png', alt: title }],
    },
    twitter: { card: 'summary_large_image' },
  };
}
