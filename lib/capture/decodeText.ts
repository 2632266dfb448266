/**
 * Bytes to text by what they say of themselves: a byte order mark, else the encoding an XML declaration names, else
 * UTF-8 (XML 1.0, appendix F). Wrong bytes are refused, not replaced: a silent U+FFFD would hide a cut or mixed file.
 */
export type Decoded =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly message: string };

const knownEncodings: ReadonlySet<string> = new Set([
  'utf-8',
  'utf-16le',
  'utf-16be',
  'iso-8859-1',
  'iso-8859-15',
  'windows-1252',
  'us-ascii',
]);

/** @param fallback tried when bytes without any mark are not UTF-8 (spreadsheet programs write windows-1252) */
export function decodeText(bytes: Uint8Array, fallback?: 'windows-1252'): Decoded {
  const label = encodingOf(bytes);
  if (!knownEncodings.has(label)) {
    return { ok: false, message: `The file says it is in the encoding "${label}". Save it as UTF-8.` };
  }
  const text = tryDecode(bytes, label);
  if (text !== null) return { ok: true, text };
  const second = fallback === undefined || label !== 'utf-8' ? null : tryDecode(bytes, fallback);
  if (second !== null) return { ok: true, text: second };
  return {
    ok: false,
    message: `The file holds bytes that are not ${label.toUpperCase()}. It may be damaged or in another encoding.`,
  };
}

function encodingOf(bytes: Uint8Array): string {
  const [a, b, c, d] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return 'utf-8';
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a === 0x3c && b === 0 && d === 0) return 'utf-16le';
  if (a === 0 && b === 0x3c && c === 0) return 'utf-16be';
  const head = String.fromCharCode(...bytes.subarray(0, 200));
  const declared = /^<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z][A-Za-z0-9._-]{0,40})["']/
    .exec(head)?.[1]
    ?.toLowerCase();
  // A declaration readable byte by byte cannot be in UTF-16, whatever it says.
  return declared === undefined || declared.startsWith('utf-16') || declared === 'utf8' ? 'utf-8' : declared;
}

function tryDecode(bytes: Uint8Array, label: string): string | null {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
