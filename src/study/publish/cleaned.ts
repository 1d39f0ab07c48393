import { styledNumbers } from "../../rows/index.js";
import { eachText, plainText } from "../../text/index.js";
import type { Report } from "../report/report.js";

/**
 * A report whose texts are letters and signs alone, with the numbers of its prose in the journal's style;
 * its drawings are cleaned where they are drawn, the numbers of tables styled where they are printed.
 */
export function cleaned(report: Report): Report {
  const { numbers } = report.style;
  return eachText(report, (text) => styledNumbers(plainText(text), numbers), [...untouched]);
}

/** What names things, and drawings as data. */
const untouched = ["spec", "name", "id", "kind", "figure", "method", "style"] as const;
