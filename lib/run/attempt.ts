/** What was computed, or why it could not be: one odd revision must not keep the others from their result. */
export function attempt<Result>(compute: () => Result): Result | string {
  try {
    return compute();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
