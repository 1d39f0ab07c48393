// The toolkit in one page: its own worker and script are built by build.mjs; here is what was built.
export { type NotebookPage, notebookPage } from "./notebookPage.js";

import { packageText } from "../platform/index.js";
import { InputError } from "../results/index.js";

/**
 * The study page as one HTML text, as it was built with the package.
 *
 * @throws InputError in a working copy where it was not built yet
 */
export function studyPage(): string {
  try {
    return packageText("dist/page/study.html");
  } catch {
    throw new InputError("page requires the built page, got none; npm run pages builds it");
  }
}
