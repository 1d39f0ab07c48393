/** What the page brings along, packed into its own text: the worker's script, fonts, the version. */
export async function packed(id: string): Promise<Uint8Array> {
  const text = document.getElementById(id)?.textContent ?? "";
  const bytes = Uint8Array.from(atob(text.trim()), (sign) => sign.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}
