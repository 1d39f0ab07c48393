// biome-ignore lint/suspicious/noExplicitAny: JSON that a person edits; the library checks it
export type Json = any;

/** An object that a text holds. @throws in words that name the text */
export function parsedText(name: string, text: string): Json {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new Error(`${name} is no JSON: ${(error as Error).message}`);
  }
  if (typeof json === "object" && json !== null) return json;
  throw new Error(`${name} holds no object in braces.`);
}
