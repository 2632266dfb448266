/** A client that keeps cookies and says where it comes from, as a browser would; nothing leaves this machine. */
export class Browser {
  readonly cookies = new Map<string, string>();

  constructor(readonly address: string) {
    if (!/^http:\/\/127\.0\.0\.1:\d+$/.test(address)) throw new Error('attacks stay on this machine');
  }

  async ask(path: string, init: RequestInit = {}): Promise<Response> {
    const headers = new Headers(init.headers);
    if (this.cookies.size > 0 && !headers.has('cookie'))
      headers.set('cookie', [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; '));
    if (!headers.has('origin')) headers.set('origin', this.address);
    const response = await fetch(`${this.address}${path}`, {
      redirect: 'manual',
      signal: AbortSignal.timeout(60_000),
      ...init,
      headers,
    });
    for (const cookie of response.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(cookie) ?? [];
      this.cookies.set(name, value);
    }
    return response;
  }

  async signIn(email: string, password: string): Promise<Response> {
    const { csrfToken } = (await (await this.ask('/api/auth/csrf')).json()) as { csrfToken: string };
    return this.ask('/api/auth/callback/credentials', {
      method: 'POST',
      body: new URLSearchParams({ csrfToken, email, password, json: 'true', callbackUrl: '/' }),
    });
  }

  async isSignedIn(): Promise<boolean> {
    const session = (await (await this.ask('/api/auth/session')).json()) as { accountId?: string };
    return session.accountId !== undefined && (await this.ask('/account')).status === 200;
  }
}
