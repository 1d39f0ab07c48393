/** The signs within printed numbers; data files keep the point and no sign of thousands. */
export interface NumberStyle {
  /** "0.95", "0,95" or "0·95". */
  readonly decimal: "point" | "comma" | "raised";
  /** "20,000" or, with a thin space, "20 000". */
  readonly thousands: "comma" | "thin-space";
}

const decimalSigns = { point: ".", comma: ",", raised: "\u00b7" } as const;
/** The sign before the decimals of a printed number. */
export const decimalSign = ({ decimal }: NumberStyle): string => decimalSigns[decimal];

const thousandsSigns = { comma: ",", "thin-space": "\u2009" } as const;

/**
 * Printed numbers of a text in the style of a journal. Numbers stand as they were printed, with "." before
 * decimals and "," before thousands; versions (0.1.0), paths, and what is joined to letters stay.
 */
export function styledNumbers(text: string, { decimal, thousands }: NumberStyle): string {
  if (decimal === "point" && thousands === "comma") return text;
  return text.replace(printed, (number) => {
    const [whole, part] = number.split(".");
    const grouped = whole!.replaceAll(",", thousandsSigns[thousands]);
    return part === undefined ? grouped : `${grouped}${decimalSigns[decimal]}${part}`;
  });
}

/** With thousands or with decimals; neither within a longer word nor before a slash. */
const printed =
  /(?<![\w.,/\u00b7])(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?![\w/]|[.,]\d|\.[a-z])/g;
