/** What runs this, as a manifest names it, such as "v20.19.0". */
export function runtimeName(): string {
  return process.version;
}
