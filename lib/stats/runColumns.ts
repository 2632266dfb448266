import type { FitRow } from './fitRow';
import type { Scope } from './scopes';

/** Names as small whole numbers, in the order in which they came; -1 stands for no name. */
export interface CodedNames {
  names: readonly string[];
  codes: Int32Array;
}

/** What runs share with others, one list after the other: run i has the entries from `starts[i]` to `starts[i + 1]`. */
export interface SharedColumns {
  starts: Int32Array;
  inputs: readonly { key: string; scope: Scope }[];
  inputOf: Int32Array;
  contribution: Float64Array;
}

/** Runs as a fit takes them, column by column: about 70 bytes a run where an object each would be several hundred. */
export interface RunColumns {
  count: number;
  setup: CodedNames;
  car: CodedNames;
  loop: CodedNames;
  session: CodedNames;
  model: CodedNames;
  tester: CodedNames;
  z: Float64Array;
  u: Float64Array;
  shared: SharedColumns;
  /** Undefined where a run has no name of its own. */
  runIds: readonly (string | undefined)[];
}

/** Gathers runs one at a time, so that whoever reads them holds no more than one. */
export class RunColumnsBuilder {
  private readonly named = {
    setup: new GrowingNames(),
    car: new GrowingNames(),
    loop: new GrowingNames(),
    session: new GrowingNames(),
    model: new GrowingNames(),
    tester: new GrowingNames(),
  };
  private readonly z = new Growing(Float64Array);
  private readonly u = new Growing(Float64Array);
  private readonly starts = new Growing(Int32Array);
  private readonly inputOf = new Growing(Int32Array);
  private readonly contribution = new Growing(Float64Array);
  private readonly inputs: { key: string; scope: Scope }[] = [];
  private readonly inputCodes = new Map<string, number>();
  private readonly runIds: (string | undefined)[] = [];

  add(run: FitRow): void {
    this.named.setup.add(run.setup);
    this.named.car.add(run.car);
    this.named.loop.add(run.loop);
    this.named.session.add(run.session);
    this.named.model.add(run.model);
    this.named.tester.add(run.tester);
    this.z.add(run.z);
    this.u.add(run.u);
    this.runIds.push(run.runId);
    this.starts.add(this.inputOf.length);
    for (const { key, scope, contribution } of run.shared ?? []) {
      this.inputOf.add(this.codeOf(key, scope));
      this.contribution.add(contribution);
    }
  }

  columns(): RunColumns {
    const { setup, car, loop, session, model, tester } = this.named;
    this.starts.add(this.inputOf.length);
    return {
      count: this.runIds.length,
      setup: setup.coded(),
      car: car.coded(),
      loop: loop.coded(),
      session: session.coded(),
      model: model.coded(),
      tester: tester.coded(),
      z: this.z.values(),
      u: this.u.values(),
      shared: {
        starts: this.starts.values(),
        inputs: this.inputs,
        inputOf: this.inputOf.values(),
        contribution: this.contribution.values(),
      },
      runIds: this.runIds,
    };
  }

  private codeOf(key: string, scope: Scope): number {
    const name = `${scope}\u0000${key}`;
    const known = this.inputCodes.get(name);
    if (known !== undefined) return known;
    this.inputCodes.set(name, this.inputs.length);
    this.inputs.push({ key, scope });
    return this.inputs.length - 1;
  }
}

export function columnsOf(runs: RunColumns | readonly FitRow[]): RunColumns {
  if ('count' in runs) return runs;
  const builder = new RunColumnsBuilder();
  for (const run of runs) builder.add(run);
  return builder.columns();
}

/** Run i as it was added. */
export function rowAt(runs: RunColumns, i: number): FitRow {
  const { shared } = runs;
  const [from, to] = [shared.starts[i] as number, shared.starts[i + 1] as number];
  const runId = runs.runIds[i];
  const loop = nameAt(runs.loop, i);
  const model = nameAt(runs.model, i);
  const tester = nameAt(runs.tester, i);
  return {
    ...(runId === undefined ? {} : { runId }),
    setup: nameAt(runs.setup, i) as string,
    ...(model === undefined ? {} : { model }),
    car: nameAt(runs.car, i) as string,
    ...(loop === undefined ? {} : { loop }),
    session: nameAt(runs.session, i) as string,
    ...(tester === undefined ? {} : { tester }),
    z: runs.z[i] as number,
    u: runs.u[i] as number,
    ...(from === to
      ? {}
      : {
          shared: Array.from({ length: to - from }, (_, at) => ({
            ...(shared.inputs[shared.inputOf[from + at] as number] as { key: string; scope: Scope }),
            contribution: shared.contribution[from + at] as number,
          })),
        }),
  };
}

export function nameAt({ names, codes }: CodedNames, i: number): string | undefined {
  return names[codes[i] as number];
}

class GrowingNames {
  private readonly names: string[] = [];
  private readonly known = new Map<string, number>();
  private readonly codes = new Growing(Int32Array);

  add(name: string | undefined): void {
    if (name === undefined) {
      this.codes.add(-1);
      return;
    }
    let code = this.known.get(name);
    if (code === undefined) {
      code = this.names.length;
      this.known.set(name, code);
      this.names.push(name);
    }
    this.codes.add(code);
  }

  coded(): CodedNames {
    return { names: this.names, codes: this.codes.values() };
  }
}

type Numbers = Float64Array | Int32Array;

/** A typed array that doubles as it fills. */
class Growing<T extends Numbers> {
  private store: T;
  private used = 0;

  constructor(private readonly kind: new (length: number) => T) {
    this.store = new kind(256);
  }

  get length(): number {
    return this.used;
  }

  add(value: number): void {
    if (this.used === this.store.length) {
      const wider = new this.kind(2 * this.used);
      wider.set(this.store);
      this.store = wider;
    }
    this.store[this.used] = value;
    this.used += 1;
  }

  values(): T {
    return this.store.slice(0, this.used) as T;
  }
}
