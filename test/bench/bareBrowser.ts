import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { z } from 'zod';
import { chromiumPath } from '../helpers/chromium';

const messageSchema = z.object({
  id: z.number().optional(),
  result: z.unknown().optional(),
  error: z.object({ message: z.string() }).optional(),
});

/**
 * A browser with nothing switched on that watches its pages (Chrome DevTools Protocol over a pipe). A tool for tests
 * keeps the protocol's `Runtime` on, and each error that a script makes then costs the page its place in the source:
 * up to a third of what a first visit takes.
 */
export class BareBrowser {
  private readonly folder = mkdtempSync(join(tmpdir(), 'evenloop-browser-'));
  private readonly child: ChildProcess;
  private readonly waiting = new Map<
    number,
    { resolve: (result: unknown) => void; reject: (error: Error) => void }
  >();
  private lastId = 0;
  private rest = '';

  constructor() {
    this.child = spawn(
      chromiumPath,
      [
        '--headless',
        '--no-sandbox',
        '--no-first-run',
        '--disable-background-networking',
        `--user-data-dir=${this.folder}`,
        '--remote-debugging-pipe',
      ],
      { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] },
    );
    const answers = this.child.stdio[4] as Readable;
    answers.setEncoding('utf8').on('data', (text: string) => this.read(text));
  }

  send(method: string, parameters: object = {}, sessionId?: string): Promise<unknown> {
    const id = ++this.lastId;
    const message = JSON.stringify({ id, method, params: parameters, sessionId });
    (this.child.stdio[3] as Writable).write(`${message}\0`);
    return new Promise((resolve, reject) => this.waiting.set(id, { resolve, reject }));
  }

  async close(): Promise<void> {
    const ended = new Promise((resolve) => this.child.once('exit', resolve));
    await this.send('Browser.close');
    await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }

  private read(text: string): void {
    const messages = (this.rest + text).split('\0');
    this.rest = messages.pop() ?? '';
    for (const message of messages) {
      const { id, result, error } = messageSchema.parse(JSON.parse(message));
      const asked = id === undefined ? undefined : this.waiting.get(id);
      if (id === undefined || asked === undefined) continue;
      this.waiting.delete(id);
      if (error === undefined) asked.resolve(result);
      else asked.reject(new Error(error.message));
    }
  }
}
