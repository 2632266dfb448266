/** How a refused sign-in says for how many seconds to wait: the library hands on one word in an address. */
export function waitCode(waitS: number): string {
  return `wait-${waitS}`;
}

export function waitOfCode(code: string | null | undefined): number | undefined {
  const [, digits] = /^wait-(\d{1,4})$/.exec(code ?? '') ?? [];
  return digits === undefined ? undefined : Number(digits);
}
