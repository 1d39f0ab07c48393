// A thread that gives charts to the notebook page, as long as the kernel runs.
import { readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chartLibraries, type MessagePort, parentPort, secretHex } from "../../platform/index.js";

/** A chart, and where the answer goes; `done` is set to 1 when it lies in the port. */
export interface ChartRequest {
  readonly spec: { readonly [key: string]: unknown };
  readonly port: MessagePort;
  readonly done: Int32Array;
}

/** Charts by their name; the oldest go, since a page asks at once. */
const charts = new Map<string, string>();
const mostCharts = 200;
let server: Promise<Server> | undefined;

parentPort?.on("message", async ({ spec, port, done }: ChartRequest) => {
  try {
    server ??= started();
    const { port: number } = (await server).address() as AddressInfo;
    const name = secretHex(16);
    charts.set(name, await chartScript(spec, name, `http://127.0.0.1:${number}/runtime.js`));
    const [oldest] = charts.keys();
    if (charts.size > mostCharts && oldest !== undefined) charts.delete(oldest);
    port.postMessage({ address: `http://127.0.0.1:${number}/${name}.js` });
  } catch {
    // the picture stands
    port.postMessage({ address: null });
  }
  port.close();
  Atomics.store(done, 0, 1);
  Atomics.notify(done, 0);
});

/** Listens on this machine alone. */
function started(): Promise<Server> {
  const drawing = runtimeScript();
  return new Promise((resolve, reject) => {
    const one = createServer((request, response) => {
      const name = /^\/(\w+)\.js$/.exec(request.url ?? "")?.[1] ?? "";
      const script = name === "runtime" ? drawing : charts.get(name);
      response.writeHead(script === undefined ? 404 : 200, {
        "Content-Type": "text/javascript; charset=utf-8",
        "Cache-Control": "no-store",
      });
      response.end(script);
    });
    one.on("error", reject);
    one.listen(0, "127.0.0.1", () => resolve(one));
  });
}

/** What draws charts, out of the way of a page's own loader of modules. */
function runtimeScript(): string {
  const file = join(dirname(fileURLToPath(import.meta.resolve("vega"))), "vega.min.js");
  return `(function () { var define, exports, module;\n${readFileSync(file, "utf8")}\n}).call(self);`;
}

/** Draws the chart in its place, with the runtime fetched once a page. */
async function chartScript(
  spec: ChartRequest["spec"],
  name: string,
  runtime: string,
): Promise<string> {
  const { vegaLite } = await chartLibraries();
  type Spec = Parameters<typeof vegaLite.compile>[0];
  const chart = vegaLite.compile(spec as unknown as Spec).spec;
  return `(function () {
  var place = document.getElementById(${JSON.stringify(`meridional-${name}`)});
  if (!place) return;
  var caption = place.querySelector("p");
  var draw = function () {
    var view = new vega.View(vega.parse(${JSON.stringify(chart)}), { renderer: "svg", hover: true });
    var holder = document.createElement("div");
    holder.className = "meridional-live";
    view.initialize(holder).runAsync().then(function () {
      place.replaceChildren(holder, caption);
    });
  };
  if (self.vega) return draw();
  self.meridionalWaiting = self.meridionalWaiting || [];
  self.meridionalWaiting.push(draw);
  if (self.meridionalWaiting.length > 1) return;
  var script = document.createElement("script");
  script.src = ${JSON.stringify(runtime)};
  script.onload = function () {
    self.meridionalWaiting.splice(0).forEach(function (one) { one(); });
  };
  document.head.appendChild(script);
})();`;
}
