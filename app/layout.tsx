import '@fontsource-variable/source-sans-3/wght.css';
import '@fontsource-variable/source-serif-4/wght.css';
import './fonts/fallback.css';
import './globals.css';
import type { Metadata, Viewport } from 'next';
import { headers } from 'next/headers';
import type { ReactNode } from 'react';
import { darkPalette, lightPalette } from './ui/palette';
import { chosenDisplay } from './visitor/display';
import { nonceOf } from './visitor/nonce';

export const metadata: Metadata = {
  title: { default: 'Evenloop', template: '%s · Evenloop' },
  description:
    'A registry of repeatable electric-car consumption runs on fixed out-and-back loops, brought to reference conditions with stated uncertainty.',
  icons: {
    icon: [
      { url: '/icons/icon.svg', type: 'image/svg+xml' },
      { url: '/icons/icon-192.png', sizes: '192x192', type: 'image/png' },
    ],
    apple: '/icons/apple-touch-icon.png',
  },
};

/** The browser's own bars and controls go with the chosen appearance, or with the system's where none was chosen. */
export async function generateViewport(): Promise<Viewport> {
  const chosen = (await chosenDisplay())?.appearance ?? 'system';
  const colours = { light: lightPalette.paper, dark: darkPalette.paper };
  return {
    width: 'device-width',
    initialScale: 1,
    colorScheme: chosen === 'system' ? 'light dark' : chosen,
    themeColor:
      chosen === 'system'
        ? [
            { media: '(prefers-color-scheme: light)', color: colours.light },
            { media: '(prefers-color-scheme: dark)', color: colours.dark },
          ]
        : colours[chosen],
  };
}

export default async function RootLayout({ children }: { children: ReactNode }) {
  const nonce = nonceOf((await headers()).get('content-security-policy'));
  const chosen = await chosenDisplay();
  // theme.js may set data-theme before the first paint, so the server's markup may differ by that attribute.
  return (
    <html lang="en-GB" data-theme={chosen?.appearance} suppressHydrationWarning>
      <head>
        <script src="/theme.js" nonce={nonce} suppressHydrationWarning />
      </head>
      <body className="flex min-h-dvh flex-col">{children}</body>
    </html>
  );
}
