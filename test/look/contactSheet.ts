import { existsSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';

export interface Shot {
  name: string;
  of: string;
  file: string;
}

const TILE = { width: 260, height: 360, gap: 8, across: 7 } as const;

/** A page with all pictures, each a link to itself; beside it their heads in one picture. */
export async function contactSheet(folder: string, shots: readonly Shot[]): Promise<string> {
  const drawn = shots.filter(({ file }) => existsSync(join(folder, file)));
  await montage(folder, drawn);
  const tiles = shots.map(
    ({ name, of, file }) =>
      `<figure><a href="${file}"><img src="${file}" alt="" loading="lazy"></a><figcaption>${escaped(`${name}: ${of}`)}</figcaption></figure>`,
  );
  return `<!doctype html><meta charset="utf-8"><title>All pages</title><style>body{display:flex;flex-wrap:wrap;gap:8px;font:13px sans-serif}figure{margin:0;width:300px}img{width:100%;height:420px;object-fit:cover;object-position:top;border:1px solid}</style>${tiles.join('\n')}`;
}

async function montage(folder: string, shots: readonly Shot[]): Promise<void> {
  const { width, height, gap, across } = TILE;
  const pictures = await Promise.all(
    shots.map(async ({ file }, index) => ({
      input: await sharp(join(folder, file))
        .resize(width, height, { fit: 'cover', position: 'top' })
        .toBuffer(),
      left: (index % across) * (width + gap),
      top: Math.floor(index / across) * (height + gap),
    })),
  );
  if (pictures.length === 0) return;
  await sharp({
    create: {
      width: across * (width + gap),
      height: Math.ceil(pictures.length / across) * (height + gap),
      channels: 3,
      background: '#888888',
    },
  })
    .composite(pictures)
    .toFile(join(folder, 'sheet.png'));
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}
