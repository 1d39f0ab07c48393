/** The shape of a cell: letters become a or A, digits 9, so that a form shows and a person does not. */
export function maskCell(text: string): string {
  const shape = text
    .slice(0, 24)
    .replace(/\p{L}|\p{N}/gu, (sign) =>
      /\p{N}/u.test(sign) ? "9" : /\p{Lu}/u.test(sign) ? "A" : "a",
    );
  return text.length > 24 ? `${shape}…` : shape;
}
