import { existsSync } from 'node:fs';

/** Debian's two builds of Chromium: without windows it does the same pages for about half the processor time. */
const BUILDS = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'] as const;

/** The browser that the tests drive: the one that CHROMIUM names, else the lightest that is installed. */
export const chromiumPath = process.env.CHROMIUM ?? BUILDS.find(existsSync) ?? BUILDS[1];
