// The shapes that results share: estimates, tables, figures, errors, the caution.

export { type Audience, type ForAudience, jointAudience, shownTo } from "./audience.js";
export { caution } from "./caution.js";
export { didYouMean, nearest } from "./didYouMean.js";
export {
  type Estimate,
  linearEstimate,
  type OneSided,
  type Undefined,
  undefinedBecause,
} from "./estimate.js";
export type { FigureSpec } from "./figure.js";
export { formerNameOf, formerNames } from "./formerNames.js";
export { fitting } from "./fitting.js";
export { InputError } from "./inputError.js";
export { methodName } from "./methodName.js";
export { namedIssues } from "./namedIssues.js";
export type { Progress, RunOptions } from "./run.js";
export {
  type CellFormat,
  cellFormat,
  type Suppressed,
  type TableCell,
  type TableColumn,
  type TableModel,
  type TableRow,
} from "./table.js";
export type { TwoByTwo } from "./twoByTwo.js";
