import { mkdirSync, readdirSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import axe from "axe-core";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { compareOutputs, notebookOf, readNotebook } from "../../src/notebook/runner.js";
import { notebookPage } from "../../src/page/index.js";
import { withoutPixels } from "../../src/page/notebookPage.js";
import { pathOf } from "../builders/program.js";

// A real browser, from the file system with the network off; `npm run pages` has built the page.
describe("a notebook in one page", () => {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let folder: string;
  let address: string;
  let requests: string[];
  let complaints: string[];
  let blocked: readonly (string | RegExp)[];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-notebooks-"));
    mkdirSync(join(folder, "notes"));
    browser = await chromium.launch({
      executablePath: pathOf("chromium"),
      args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    });
  });
  afterAll(async () => {
    await browser?.close();
    await rm(folder, { recursive: true, force: true });
  });

  beforeEach(async () => {
    context = await browser.newContext({
      offline: true,
      viewport: { width: 1024, height: 900 },
      acceptDownloads: true,
    });
    requests = [];
    complaints = [];
    blocked = [];
    address = "";
    context.on("request", (request) => requests.push(request.url()));
    page = await context.newPage();
    // busier machines than ours run this
    page.setDefaultTimeout(180_000);
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(String(error)));
  });

  // whatever a cell did: nothing but the page and blobs of its own was read, nothing was stored
  afterEach(async () => {
    // a test that opened nothing
    if (address === "") return context.close();
    const found = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const here = globalThis as any;
      return {
        blocked: here.blockedHere as string[],
        address: String(here.location),
        stored: [here.localStorage.length, here.sessionStorage.length, here.document.cookie],
      };
    });
    expect(found.blocked).toEqual(blocked.map((one) => expect.stringMatching(one)));
    expect(found.address).toBe(address);
    expect(found.stored).toEqual([0, 0, ""]);
    if (blocked.length === 0) expect(complaints).toEqual([]);
    expect(requests[0]).toBe(address);
    expect(requests.slice(1).filter((url) => !url.startsWith("blob:null/"))).toEqual([]);
    await context.close();
  });

  const open = async (html: string) => {
    const path = join(folder, "page.html");
    await writeFile(path, html);
    address = `file://${path}`;
    await page.goto(address);
    await page.locator(".cell").first().waitFor();
  };
  const openCells = async (...sources: readonly string[]) => {
    const cells = sources.map((source) =>
      source.startsWith("#")
        ? { cell_type: "markdown", metadata: {}, source }
        : { cell_type: "code", metadata: {}, source, outputs: [], execution_count: null },
    );
    await openJson({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 });
  };
  /** A page whose cells did not run before: what they do is what is looked at. */
  const openJson = async (json: {
    readonly cells: readonly object[];
    readonly [other: string]: unknown;
  }) => {
    const path = join(folder, "notes", "own.ipynb");
    const isProse = (cell: object) => "cell_type" in cell && cell.cell_type === "markdown";
    const prose = { ...json, cells: json.cells.filter(isProse) };
    await writeFile(path, JSON.stringify(prose));
    const { html } = await notebookPage(path);
    const { gzipSync } = await import("fflate");
    const own = { name: "own.ipynb", text: JSON.stringify(json), folder: "/notes", files: [] };
    const packed = Buffer.from(gzipSync(new TextEncoder().encode(JSON.stringify(own)))).toString(
      "base64",
    );
    await open(html.replace(/(id="notebook">)[^<]*/, (_, start) => `${start}${packed}`));
  };
  const press = (name: string) => page.getByRole("button", { name, exact: true }).click();
  const ended = async (timeout = 180_000) => {
    const said = page.locator("#said:not(.doing):not(:empty)");
    await said.waitFor({ timeout });
    return said.textContent();
  };
  const outputOf = async (cell: number) =>
    (await page.locator(`section[aria-label="Cell ${cell}"] .outputs`).textContent())?.trim();
  const saved = async (name: string) => {
    const [download] = await Promise.all([page.waitForEvent("download"), press(name)]);
    const path = join(folder, download.suggestedFilename());
    await download.saveAs(path);
    return path;
  };
  const faults = async () => {
    // the page's policy lets no script in but its own; the test's comes by the browser's own door
    await page.evaluate(axe.source);
    return page.evaluate(async () => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { violations } = await (globalThis as any).axe.run({
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
      });
      return violations.map(({ id, nodes }: { id: string; nodes: { html: string }[] }) =>
        [id, ...nodes.map(({ html }) => html)].join(" "),
      );
    });
  };

  // frames need a library larger than a page may be
  const framed = "15-frames.ipynb";
  const all = readdirSync("notebooks").filter((name) => name.endsWith(".ipynb"));

  it("refuses a notebook of frames, with the cell and the reason", async () => {
    await expect(notebookPage(join("notebooks", framed))).rejects.toThrow(
      /code cell \d+ of notebooks\/15-frames\.ipynb: .*danfojs, which is larger than a page may be/,
    );
  });

  it.each(all.filter((name) => name !== framed))(
    "runs %s from top to bottom, with the outputs that are saved",
    async (name) => {
      const path = join("notebooks", name);
      const { html, differences } = await notebookPage(path);
      expect(differences).toEqual([]);
      await open(html);
      expect(await faults()).toEqual([]);
      const wanted = withoutPixels(readNotebook(path));
      const code = wanted.cells.filter(({ kind }) => kind === "code").length;
      // saved outputs are there at once
      const before = wanted.cells.reduce((sum, { outputs }) => sum + outputs.length, 0);
      expect(await page.locator(".output").count()).toBe(before);
      await press("Run all");
      expect(await ended(400_000)).toMatch(new RegExp(`^${code} cells ran in `));
      expect(await faults()).toEqual([]);
      const own = JSON.parse(await readFile(await saved("Save the notebook"), "utf8"));
      const run = notebookOf(own, path)!;
      expect(compareOutputs(wanted, run)).toEqual([]);
      expect(run.cells.map(({ source }) => source)).toEqual(
        wanted.cells.map(({ source }) => source),
      );
    },
  );

  it("lets a cell be changed and run by the keyboard alone, and says where it failed", async () => {
    await openCells("# By keyboard", "const a = 1;\na", "a + 1");
    const editor = page.getByRole("textbox", { name: "Cell 2, TypeScript" });
    await editor.focus();
    await page.keyboard.press("Control+End");
    await page.keyboard.type(" + b");
    await page.keyboard.press("Shift+Enter");
    expect(await ended()).toBe("Cell 2 failed. Cells above it have not been run.");
    expect(await outputOf(2)).toBe("ReferenceError: a is not defined");
    expect(await page.locator(".failed-line").textContent()).toBe("a + 1 + b");
    expect(await page.getByText("failed, in line 1").count()).toBe(1);
    for (let step = 0; step < 4; step++) await page.keyboard.press("Backspace");
    expect(await page.locator(".failed-line").count()).toBe(0);
    // Tab leaves the editor, to what follows it
    await page.keyboard.press("Shift+Tab");
    const focused = () =>
      page.evaluate(() => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        return (globalThis as any).document.activeElement.getAttribute("aria-label");
      });
    expect(await focused()).toBe("Run from the top to here, cell 2");
    await page.keyboard.press("Enter");
    await page.locator("#said", { hasText: "2 cells ran" }).waitFor();
    expect(await outputOf(1)).toBe("1");
    expect(await outputOf(2)).toBe("2");
    expect(await faults()).toEqual([]);
  });

  it("stops a cell that never ends, and begins afresh", async () => {
    await openCells("const kept = 1;", "while (true) {}", "kept");
    await press("Run cell 1");
    expect(await ended()).toContain("Cell 1 ran");
    await press("Run cell 2");
    await page.locator("#said.doing").waitFor();
    await press("Stop");
    expect(await ended()).toContain("Stopped. What the cells had declared is gone");
    await press("Run cell 3");
    expect(await ended()).toContain("Cell 3 failed.");
    expect(await outputOf(3)).toBe("ReferenceError: kept is not defined");
    await press("Run cell 1");
    await page.locator("#said", { hasText: "Cell 1 ran" }).waitFor();
  });

  it("offers files that a cell writes, and asks before they are lost", async () => {
    await openCells(
      'import { writeFileSync } from "node:fs";\nwriteFileSync("/tmp/kept.txt", "words");',
    );
    await press("Run all");
    await ended();
    expect(await readFile(await saved("Save kept.txt"), "utf8")).toBe("words");
    // it can be saved once more
    expect(await readFile(await saved("Save kept.txt"), "utf8")).toBe("words");
  });

  it.each([
    'await fetch("https://example.org/?leak")',
    'new WebSocket("wss://example.org")',
    'new XMLHttpRequest().open("GET", "https://example.org")',
    'new EventSource("https://example.org")',
    'importScripts("https://example.org/x.js")',
    'new Worker("https://example.org/x.js")',
    'new Worker(URL.createObjectURL(new Blob(["1"])))',
    'location.href = "https://example.org"',
    'self.location = "https://example.org"',
    'indexedDB.open("a")',
    'await caches.open("a")',
    'new BroadcastChannel("a").postMessage(1)',
    'localStorage.setItem("a", "b")',
    "await navigator.storage.getDirectory()",
    'navigator.sendBeacon("https://example.org")',
    'document.title = "a"',
    'open("https://example.org")',
    'postMessage({ kind: "output", cell: 1, output: {} })',
    'await import("https://example.org/x.js")',
    "webkitRequestFileSystemSync(0, 1)",
    'Object.getPrototypeOf(Object.getPrototypeOf(self)).fetch.call(self, "https://example.org")',
  ])("gives a cell that says %s an error, and nothing leaves", async (source) => {
    await openCells(source);
    await press("Run all");
    expect(await ended()).toBe("Cell 1 failed.");
    expect(await outputOf(1)).toMatch(/Error/);
  });

  it.each([
    ['eval("1")', "script-src eval"],
    ['new Function("return 1")()', "script-src eval"],
    [
      "new WebAssembly.Module(new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]))",
      "script-src wasm-eval",
    ],
  ])("stops %s by its policy, and says so", async (source, stopped) => {
    blocked = [stopped];
    await openCells(source);
    await press("Run all");
    expect(await ended()).toBe("Cell 1 failed.");
    expect(await page.getByRole("alert").textContent()).toContain("This browser stopped something");
  });

  it("runs nothing that hostile prose, outputs, ids and names hold", async () => {
    const bad =
      '<img src=x onerror="alert(1)"><script>alert(2)</script><iframe src="https://example.org"></iframe><a href="javascript:alert(3)">a</a><form action="https://example.org"><button id="stop">b</button></form><style>.caution{display:none}</style><meta http-equiv="refresh" content="0;url=https://example.org"><link rel="dns-prefetch" href="//example.org"><base href="https://example.org"><svg onload="alert(4)"><script>alert(5)</script></svg><p style="position:fixed;inset:0;background:url(https://example.org)">over</p>';
    const display = (data: object) => ({ output_type: "display_data", metadata: {}, data });
    const saved = [
      display({ "text/html": bad, "text/plain": bad }),
      display({
        "image/svg+xml": `<svg xmlns="http://www.w3.org/2000/svg" onload="alert(6)"><script>alert(7)</script><image href="https://example.org"/></svg>`,
      }),
      display({ "application/javascript": "alert(8)", "text/plain": bad }),
      { output_type: "stream", name: "stdout", text: bad },
    ];
    const code = { cell_type: "code", metadata: {}, execution_count: null };
    await openJson({
      cells: [
        {
          cell_type: "markdown",
          metadata: {},
          source: `# said ${bad}\n\n## worker\n\n[link](javascript:alert(9)) ![x](https://example.org/x.png) [out](https://example.org)\n\n${bad}`,
        },
        { cell_type: "raw", metadata: {}, source: bad },
        {
          ...code,
          id: bad,
          source: `const words = ${JSON.stringify(bad)};\nconsole.log(words); words`,
          outputs: saved,
        },
        {
          ...code,
          source:
            'import { show } from "meridional";\nshow(words, { kind: words, [words]: words });',
          outputs: [],
        },
        { ...code, source: "throw new Error(words)", outputs: [] },
      ],
    });
    await press("Run all");
    expect(await ended()).toBe("Cell 3 failed.");
    const found = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { document } = globalThis as any;
      const count = (selector: string) => document.querySelectorAll(selector).length;
      return {
        elements: count(
          "#cells script, #cells iframe, #cells form, #cells style, #cells meta, #cells link, #cells base, #cells [onerror], #cells [onload], #cells [id], #cells img[src^=http]",
        ),
        links: [...document.querySelectorAll("#cells a[href]")].map(
          (one: { href: string }) => one.href,
        ),
        styled: [...document.querySelectorAll(".output [style], .prose [style]")].map(
          (one: { getAttribute(name: string): string }) => one.getAttribute("style"),
        ),
        caution: document.querySelector(".caution").getClientRects().length,
        title: document.title,
      };
    });
    expect(found.elements).toBe(0);
    expect(found.links).toEqual(["https://example.org/"]);
    expect(found.styled.filter((style: string) => /position|url/.test(style))).toEqual([]);
    expect(found.caution).toBe(1);
    expect(await faults()).toEqual([]);
  });

  it("can be read on a telephone", async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await open((await notebookPage("notebooks/04-referral-accuracy.ipynb")).html);
    const wider = await page.evaluate(() => {
      // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
      const { documentElement } = (globalThis as any).document;
      return documentElement.scrollWidth - documentElement.clientWidth;
    });
    expect(wider).toBe(0);
    expect(await faults()).toEqual([]);
  });
});
