/** Names by place, made a map when first asked: a fit of many sessions never asks. */
export class NameIndex implements Iterable<[string, number]> {
  private map: Map<string, number> | undefined;

  constructor(private readonly names: () => string[]) {}

  private get places(): Map<string, number> {
    this.map ??= new Map(this.names().map((name, place) => [name, place]));
    return this.map;
  }

  get(name: string): number | undefined {
    return this.places.get(name);
  }

  [Symbol.iterator](): Iterator<[string, number]> {
    return this.places[Symbol.iterator]();
  }
}
