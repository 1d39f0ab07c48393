/** Nobody else works in a page's memory. */
export async function whileLocked<T>(
  _path: string,
  _options: { readonly caller: string; readonly wait?: number },
  work: () => Promise<T>,
): Promise<T> {
  return work();
}
