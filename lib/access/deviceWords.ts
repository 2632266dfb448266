/** No browser's own is longer; the rest of a longer one is not looked at. */
const LONGEST = 400;

/** The first that fits names it: most browsers also claim to be those that came before them. */
const BROWSERS: readonly (readonly [pattern: RegExp, name: string])[] = [
  [/\bEdg(?:e|A|iOS)?\//, 'Edge'],
  [/\b(?:OPR|Opera)\//, 'Opera'],
  [/\bSamsungBrowser\//, 'Samsung Internet'],
  [/\b(?:Firefox|FxiOS)\//, 'Firefox'],
  [/\b(?:Chrome|HeadlessChrome|CriOS|Chromium)\//, 'Chrome'],
  [/\bVersion\/[\d.]+ .*Safari\//, 'Safari'],
];

const SYSTEMS: readonly (readonly [pattern: RegExp, name: string])[] = [
  [/\biPhone\b/, 'iPhone'],
  [/\biPad\b/, 'iPad'],
  [/\bAndroid\b/, 'Android'],
  [/\bWindows\b/, 'Windows'],
  [/\bCrOS\b/, 'ChromeOS'],
  [/\bMac OS X\b|\bMacintosh\b/, 'macOS'],
  [/\bLinux\b/, 'Linux'],
];

/**
 * Browser and system out of a User-Agent header (RFC 9110, 10.1.5), for people to tell their own devices apart. Any
 * program can claim any; nothing is decided by it.
 */
export function deviceWords(userAgent: string | null | undefined): string {
  const text = (userAgent ?? '').slice(0, LONGEST);
  const nameIn = (names: typeof BROWSERS) => names.find(([pattern]) => pattern.test(text))?.[1];
  const browser = nameIn(BROWSERS) ?? 'Unknown browser';
  const system = nameIn(SYSTEMS);
  return system === undefined ? browser : `${browser} on ${system}`;
}
