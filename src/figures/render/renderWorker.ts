import { parentPort } from "../../platform/index.js";
import { chartSvg } from "./chartSvg.js";
import { svgToPng } from "./png.js";
import type { RenderRequest } from "./renderSync.js";

parentPort?.on("message", async ({ figure, dpi, port, done }: RenderRequest) => {
  try {
    const { svg, screen, widthPoints } = await chartSvg(figure);
    const { png } = await svgToPng(svg, { widthPoints, dpi });
    port.postMessage({ kind: "drawn", svg: screen, png });
  } catch (error) {
    port.postMessage({ kind: "failed", message: (error as Error).message });
  }
  port.close();
  Atomics.store(done, 0, 1);
  Atomics.notify(done, 0);
});
