import { spawn } from 'node:child_process';

/** Neither program reports about its user to its makers. */
const quiet = { NEXT_TELEMETRY_DISABLED: '1', CHECKPOINT_DISABLE: '1' };

export function programEnvironment(added: Record<string, string>): NodeJS.ProcessEnv {
  return { ...process.env, ...quiet, ...added };
}

/** Runs one of the installed programs to its end, its output shown; throws when it fails or is aborted. */
export function runProgram(
  script: string,
  args: readonly string[],
  added: Record<string, string>,
  signal?: AbortSignal,
): Promise<void> {
  return new Promise((resolve, reject) => {
    signal?.throwIfAborted();
    const child = spawn(process.execPath, [script, ...args], {
      stdio: 'inherit',
      env: programEnvironment(added),
    });
    const abort = () => child.kill('SIGTERM');
    signal?.addEventListener('abort', abort, { once: true });
    child.once('error', reject);
    child.once('exit', (code) => {
      signal?.removeEventListener('abort', abort);
      if (signal?.aborted) reject(signal.reason);
      else if (code === 0) resolve();
      else reject(new Error(`${script} ${args.join(' ')} failed (exit code ${code}).`));
    });
  });
}
