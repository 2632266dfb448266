import { ownAnswer } from '@/app/api/v1/own/ownAnswer';
import { newToken, SCOPE_KEYS, type TokenScope } from '@/lib/access/personalTokens';
import {
  makePersonalToken,
  readPersonalTokens,
  revokePersonalToken,
} from '@/lib/registry/accounts/personalTokens';
import type { Registry } from '@/lib/registry/registry';
import { startDraft } from '@/lib/registry/runs/startDraft';
import type { Actor } from '@/lib/run/roles';
import { letterBox } from '@/test/helpers/letterBox';
import { signedInAs, somePhoto } from '@/test/helpers/smallRegistry';
import type { Attack, Outcome } from './attack';

/** What somebody tries with tokens: found ones, ended ones, their own against what is another's. */
export async function tokenAttacks(registry: Registry, victim: Actor, attacker: Actor): Promise<Attack[]> {
  const draft = await startDraft(registry, victim, { creationKey: crypto.randomUUID() });
  const made = async (of: Actor, name: string, scopes: readonly TokenScope[] = SCOPE_KEYS) => {
    const actor = await signedInAs(registry, of.accountId);
    return (await makePersonalToken(registry, letterBox().mail, actor, { name, scopes, days: 30 })).secret;
  };
  // Made when it is first tried: other attacks sign the attacker out, which ends what was made before.
  let ownMade: Promise<string> | undefined;
  const own = () => {
    ownMade ??= made(attacker, 'own');
    return ownMade;
  };

  const ask = (
    method: string,
    path: string,
    headers: Record<string, string>,
    body?: BodyInit,
    at = registry,
  ) => {
    const request = new Request(`https://registry.example/api/v1/own/${path}`, {
      method,
      headers: { 'Content-Type': 'application/json', 'If-Match': '*', ...headers },
      ...(body === undefined ? {} : { body }),
    });
    return ownAnswer(at, request, path.split('?')[0]?.split('/') ?? [], {
      boundStrangers: () => undefined,
      noteRefusal: async () => undefined,
    });
  };
  const by = (token: string) => ({ Authorization: `Bearer ${token}` });
  const answeredBy = async (answer: Promise<Response>, ...statuses: number[]): Promise<Outcome> => {
    const { status } = await answer;
    return statuses.includes(status) ? 'refused' : `reached: ${status}`;
  };

  const ofVictim = `runs/${draft.runId}`;
  const change = '{"fields":{"notes":"attacked"}}';
  const photo = new Uint8Array(await somePhoto());
  const onAnothers: [string, string, BodyInit | undefined][] = [
    ['GET', ofVictim, undefined],
    ['GET', `${ofVictim}/draft`, undefined],
    ['PUT', `${ofVictim}/draft`, change],
    ['PATCH', `${ofVictim}/draft`, change],
    ['PUT', `${ofVictim}/recording`, 'a,b'],
    ['DELETE', `${ofVictim}/recording`, undefined],
    ['POST', `${ofVictim}/photos?kind=other`, photo],
    ['POST', `${ofVictim}/submission`, '{}'],
  ];
  return [
    ...onAnothers.map(([method, path, body]) => ({
      name: `a token at another’s draft: ${method} ${path.slice(ofVictim.length)}`,
      run: async () => answeredBy(ask(method, path, by(await own()), body), 403),
    })),
    {
      name: 'an invented token with a check that holds',
      run: () => answeredBy(ask('GET', ofVictim, by(newToken())), 401),
    },
    {
      name: 'a cookie in place of a token',
      run: () => answeredBy(ask('POST', 'runs', { Cookie: 'next-auth.session-token=x' }, '{}'), 401),
    },
    {
      name: 'a token that may only read begins a draft',
      run: async () =>
        answeredBy(ask('POST', 'runs', by(await made(attacker, 'reads', ['runs:read'])), '{}'), 403),
    },
    {
      name: 'an ended token',
      run: async () => {
        const token = await made(attacker, 'ended');
        const actor = await signedInAs(registry, attacker.accountId);
        const row = (await readPersonalTokens(registry, actor)).find(({ name }) => name === 'ended');
        await revokePersonalToken(registry, actor, { key: row?.key });
        return answeredBy(ask('POST', 'runs', by(token), '{}'), 401);
      },
    },
    {
      name: 'a token after its day',
      run: async () => {
        const later = { ...registry, now: () => new Date(registry.now().getTime() + 31 * 86_400_000) };
        return answeredBy(ask('POST', 'runs', by(await own()), '{}', later), 401);
      },
    },
    {
      name: 'a key that was used, with another body',
      run: async () => {
        const headers = { ...by(await own()), 'Idempotency-Key': 'attack' };
        await ask('POST', 'runs', headers, '{}');
        return answeredBy(ask('POST', 'runs', headers, change), 422);
      },
    },
  ];
}
