/** A consumer of embeds without types of its own: as much of it as the tests use. */
declare module 'oembetter' {
  export default function oembetter(): {
    fetch(
      url: string,
      options: Record<string, unknown>,
      done: (error: Error | null, found: Record<string, unknown>) => void,
    ): void;
  };
}
