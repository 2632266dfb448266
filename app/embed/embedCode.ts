import { publicAddress } from '@/app/runDossier/publicAddress';
import type { Embeddable } from './embeddable';
import { embedHeight } from './embedPage';

export const EMBED_WIDTH = 720;

export interface EmbedSize {
  width: number;
  height: number;
}

export function embedSize({ figure }: Pick<Embeddable, 'figure'>, most: Partial<EmbedSize> = {}): EmbedSize {
  const width = Math.min(EMBED_WIDTH, most.width ?? EMBED_WIDTH);
  const height = embedHeight(figure, width);
  return { width, height: Math.min(height, most.height ?? height) };
}

/** What is put into a page to show the live figure there. */
export function embedCode({ title, embedPath }: Embeddable, { width, height }: EmbedSize): string {
  return `<iframe src="${attribute(publicAddress(embedPath))}" title="${attribute(title)}" width="${width}" height="${height}" style="border:0;max-width:100%" loading="lazy"></iframe>`;
}

function attribute(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('"', '&quot;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}
