import { liveSpec } from "../../figures/index.js";
import { drawnLater, type MimeBundle } from "../../platform/index.js";
import type { FigureSpec } from "../../results/index.js";
import { plainTexts } from "../../text/index.js";
import { figureBundle } from "../figureBundle.js";
import { chartAddress } from "./chartAddress.js";

/**
 * A figure that answers, beside its picture: the chart by its open MIME type, which front ends that draw such
 * charts take, and in the page a script that asks the running kernel for the chart. Where neither works (an
 * untrusted or exported notebook, a kernel that has ended) the picture stands. What draws charts is not
 * saved with the notebook.
 */
export function liveBundle(figure: FigureSpec): MimeBundle & { readonly "text/plain": string } {
  const picture = figureBundle(figure);
  // a page without a kernel draws pictures
  if (drawnLater !== null) return picture;
  const spec = plainTexts(liveSpec(figure)) as { readonly [key: string]: unknown };
  const older = { ...spec, $schema: "https://vega.github.io/schema/vega-lite/v5.json" };
  return {
    ...picture,
    "application/vnd.vegalite.v6+json": JSON.stringify(spec),
    // the same chart for front ends of before; it uses nothing that they do not know
    "application/vnd.vegalite.v5+json": JSON.stringify(older),
    "text/html": withScript(picture["text/html"] ?? "", chartAddress(spec)),
  };
}

/** The picture in a place of its own, which the chart takes over when the kernel gives it. */
function withScript(html: string, address: string | null): string {
  if (address === null) return html;
  const place = `meridional-${address.replace(/^.*\/|\.js$/g, "")}`;
  return `<div id="${place}">${html}</div>
<script>(function () {
  var script = document.createElement("script");
  script.src = ${JSON.stringify(address)};
  document.head.appendChild(script);
})();</script>`;
}
