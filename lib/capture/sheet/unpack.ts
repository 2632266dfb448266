/**
 * Opens a packed workbook (ECMA-376 part 2: a ZIP archive) within bounds, and packs again only the parts a reader of
 * cells needs. Sizes are summed from the archive's directory before anything is unpacked; each part is then unpacked
 * into a buffer of exactly its stated size, so a directory that lies gains nothing. Drawings, macros, links to other
 * files and embedded objects never reach the reader.
 */
import { unzipSync, type Zippable, zipSync } from 'fflate';

export type Unpacked =
  | { readonly ok: true; readonly archive: Uint8Array; readonly parts: readonly string[] }
  | { readonly ok: false; readonly message: string };

const wanted = [
  /^\[Content_Types\]\.xml$/,
  /^_rels\/\.rels$/,
  /^xl\/workbook\.xml$/,
  /^xl\/_rels\/workbook\.xml\.rels$/,
  /^xl\/worksheets\/[^/]+\.xml$/,
  /^xl\/sharedStrings\.xml$/,
  /^xl\/styles\.xml$/,
];
const maxParts = 2000;
/** Real sheets pack 5 to 40 times; a file of one repeated byte packs a thousand times. */
const maxRatio = 300;
const ratioFloorBytes = 1024 * 1024;

export function unpackWorkbook(bytes: Uint8Array, maxUnpackedBytes: number): Unpacked {
  let total = 0;
  let parts = 0;
  let refusal: string | null = null;
  let files: Record<string, Uint8Array>;
  try {
    // First pass: directory only.
    unzipSync(bytes, {
      filter: ({ originalSize, size }) => {
        parts++;
        total += originalSize;
        if (parts > maxParts) refusal ??= `The workbook has more than ${maxParts} parts.`;
        if (total > maxUnpackedBytes) {
          refusal ??= `Unpacked, the workbook is larger than ${Math.round(maxUnpackedBytes / 1048576)} MB.`;
        }
        if (originalSize > ratioFloorBytes && originalSize > maxRatio * size) {
          refusal ??= 'The workbook is packed far more tightly than any sheet of readings.';
        }
        return false;
      },
    });
    if (refusal !== null) return { ok: false, message: refusal };
    files = unzipSync(bytes, { filter: ({ name }) => wanted.some((pattern) => pattern.test(name)) });
  } catch {
    // The library throws its own error, a RangeError or a TypeError, by where the archive is broken.
    return { ok: false, message: 'The file is not a workbook (XLSX), or it is damaged.' };
  }
  if (files['xl/workbook.xml'] === undefined) {
    return { ok: false, message: 'The file is a ZIP archive but not a workbook (XLSX).' };
  }
  for (const [name, content] of Object.entries(files)) {
    if (declaresDocumentType(content)) {
      return { ok: false, message: `A part of the workbook (${name}) declares a document type.` };
    }
  }
  return { ok: true, archive: zipSync(files as Zippable, { level: 0 }), parts: Object.keys(files) };
}

/** `<!DOCTYPE` in the first kilobyte, in any encoding whose letters are ASCII bytes, with or without zeros between. */
function declaresDocumentType(content: Uint8Array): boolean {
  const head = String.fromCharCode(...content.subarray(0, 1024).filter((byte) => byte !== 0));
  return /<!DOCTYPE/i.test(head);
}
