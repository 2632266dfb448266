/** As much as is asked of the reference implementation of Data Package 1.0 in JavaScript, which brings no types. */
declare module 'datapackage' {
  interface LoadedResource {
    name: string;
    valid: boolean;
    schema: { valid: boolean; fieldNames: string[] };
    read(options?: { keyed?: boolean; limit?: number }): Promise<unknown[]>;
    checkRelations(): Promise<boolean>;
  }
  export class Package {
    static load(
      descriptor: object | string,
      options: { strict: boolean; basePath?: string },
    ): Promise<Package>;
    valid: boolean;
    errors: readonly Error[];
    resources: readonly LoadedResource[];
  }
}
