import { testsEnding } from "./vitest.config.js";

// Tests of more than some seconds; `npm run check` and continuous integration run them.
export default testsEnding("slow");
