import { readdir, readFile, writeFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';

const asGzip = promisify(gzip);
const asBrotli = promisify(brotliCompress);

/** Text; fonts and pictures are compressed as they are. */
const COMPRESSIBLE = new Set(['.css', '.js', '.json', '.svg', '.txt']);
/** Less than a packet either way. */
const WORTH_BYTES = 1024;

/** Puts a compressed copy of each kind beside what the build made for browsers: once here, not at every request. */
export async function compressBuilt(built: string): Promise<void> {
  const files = await readdir(join(built, 'static'), { recursive: true, withFileTypes: true });
  await Promise.all(
    files
      .filter((file) => file.isFile() && COMPRESSIBLE.has(extname(file.name)))
      .map(async ({ parentPath, name }) => {
        const file = join(parentPath, name);
        const content = await readFile(file);
        if (content.length < WORTH_BYTES) return;
        const size = { [constants.BROTLI_PARAM_SIZE_HINT]: content.length };
        await writeFile(`${file}.gz`, await asGzip(content, { level: constants.Z_BEST_COMPRESSION }));
        await writeFile(`${file}.br`, await asBrotli(content, { params: size }));
      }),
  );
}
