/** Freezes an object and all that it holds; typed arrays are left, which cannot be frozen. */
export function deepFreeze<T>(value: T): T {
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return value;
  if (Object.isFrozen(value)) return value;
  Object.freeze(value);
  for (const member of Object.values(value)) deepFreeze(member);
  return value;
}
