// Showing results in a notebook, running notebooks without a server, frames.

export { bareText } from "./bareResults.js";
export type { Frame, FrameCell, FrameColumn, FrameGroups } from "./frame.js";
export { fromFrame } from "./fromFrame.js";
export { joinFrames } from "./joinFrames.js";
export { withoutStack } from "./oneLineErrors.js";
export { show } from "./show.js";
export { toFrame } from "./toFrame.js";
