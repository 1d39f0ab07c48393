import { plainTexts } from "../../text/index.js";
import type { Report } from "../report/report.js";

/** A report whose texts are letters and signs alone; its drawings are cleaned where they are drawn. */
export const cleaned = (report: Report): Report => plainTexts(report, ["spec"]);
