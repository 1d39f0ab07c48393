// Showing results in a notebook, running notebooks without a server, frames.

export type { Frame, FrameCell, FrameColumn, FrameGroups } from "./frame.js";
export { fromFrame } from "./fromFrame.js";
export { joinFrames } from "./joinFrames.js";
export { show } from "./show.js";
export { toFrame } from "./toFrame.js";
