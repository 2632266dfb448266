import { createHash } from 'node:crypto';
import { publicAddress } from '@/app/runDossier/publicAddress';
import type { FigureDescription } from './description';

/** What pictures are made by: raised when the same figure is to look otherwise, so that no cache keeps the old one. */
const DRAWN_BY = 2;

/** A figure as it stands: a hash of all that it says. The fit, the words and the numbers are in it, the hour is not. */
export function figureVersion(figure: FigureDescription): string {
  return versionOf(figure, publicAddress(figure.source.path));
}

/** 162 bits of what is given, in letters that an address and a header hold as they are. */
export function versionOf(...said: readonly unknown[]): string {
  return createHash('sha256')
    .update(JSON.stringify([DRAWN_BY, ...said]))
    .digest('base64url')
    .slice(0, 27);
}
