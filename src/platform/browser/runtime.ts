/** The browser's engine; a page has no version of Node.js. */
export function runtimeName(): string {
  const { navigator } = globalThis as { readonly navigator?: { readonly userAgent: string } };
  const [engine] = /(Chrome|Firefox|Version)\/\d+/.exec(navigator?.userAgent ?? "") ?? [];
  return `none, in a page (${engine ?? "unknown browser"})`;
}
