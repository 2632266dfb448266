import type { MetadataRoute } from 'next';
import { lightPalette } from './ui/palette';

/** What a phone needs to put the field card on its home screen (W3C Web Application Manifest). */
export default function manifest(): MetadataRoute.Manifest {
  return {
    name: 'Evenloop field card',
    short_name: 'Evenloop',
    description: 'Note a consumption run at the roadside, with or without a signal.',
    id: '/field',
    start_url: '/field',
    scope: '/',
    display: 'standalone',
    background_color: lightPalette.paper,
    theme_color: lightPalette.paper,
    icons: [
      { src: '/icons/icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: '/icons/icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: '/icons/icon.svg', sizes: 'any', type: 'image/svg+xml' },
    ],
  };
}
