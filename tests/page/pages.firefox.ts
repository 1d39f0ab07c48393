import { readdirSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { gzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readNotebook } from "../../src/notebook/runner.js";
import { notebookPage } from "../../src/page/index.js";
import { type Firefox, startFirefox } from "../builders/firefox.js";
import { pressIn } from "../builders/firefoxStudy.js";

// The other engine: the pages from the file system, nothing stopped by their policy. `npm run pages` has built them.
describe("the pages in Firefox", () => {
  let firefox: Firefox;
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "meridional-firefox-page-"));
    firefox = await startFirefox();
  });
  afterAll(async () => {
    await firefox?.end();
    await rm(folder, { recursive: true, force: true });
  });

  const open = async (html: string) => {
    const path = join(folder, "page.html");
    await writeFile(path, html);
    await firefox.open(`file://${path}`);
    await firefox.until("return document.querySelector('.cell') !== null");
  };
  const blocked = () => firefox.run<string[]>("return [...blockedHere]");
  const outputs = () =>
    firefox.run<string[]>(
      "return [...document.querySelectorAll('.output')].map((one) => one.innerHTML)",
    );
  const press = (name: string) => pressIn(firefox, name);
  const ended = () =>
    firefox.until<string>(
      `const { className, textContent } = document.getElementById("said");
      return textContent === "" || className === "doing" ? null : textContent`,
    );

  // frames need a library larger than a page may be
  const notebooks = readdirSync("notebooks").filter((name) => !/^15-/.test(name));

  it.each(notebooks.filter((name) => name.endsWith(".ipynb")))(
    "run %s from top to bottom, with the outputs that are saved",
    async (name) => {
      const path = join("notebooks", name);
      const code = readNotebook(path).cells.filter(({ kind }) => kind === "code").length;
      await open((await notebookPage(path)).html);
      const saved = await outputs();
      expect(saved.length).toBeGreaterThan(8);
      await press("Run all");
      expect(await ended()).toMatch(new RegExp(`^${code} cells ran in `));
      expect(await outputs()).toEqual(saved);
      expect(await blocked()).toEqual([]);
    },
  );

  it("give cells that try to get out an error", async () => {
    const sources = [
      'await fetch("https://example.org")',
      'new WebSocket("wss://example.org")',
      'importScripts("https://example.org/x.js")',
      'new Worker(URL.createObjectURL(new Blob(["1"])))',
      'location.href = "https://example.org"',
      'indexedDB.open("a")',
      'await caches.open("a")',
      'new BroadcastChannel("a").postMessage(1)',
      "await navigator.storage.getDirectory()",
      "postMessage(1)",
      'Object.getPrototypeOf(Object.getPrototypeOf(self)).fetch.call(self, "https://example.org")',
      "const name = 'still'; const performance = 1; null.x",
    ];
    const cells = sources.map((source) => ({
      ...{ cell_type: "code", metadata: {}, source, outputs: [], execution_count: null },
    }));
    const text = JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 });
    const own = JSON.stringify({ name: "own.ipynb", text, folder: "/notes", files: [] });
    const packed = Buffer.from(gzipSync(new TextEncoder().encode(own))).toString("base64");
    const shell = await readFile("dist/page/notebook.html", "utf8");
    const end = shell.lastIndexOf("<script>");
    const part = `<script type="text/plain" id="notebook">${packed}</script>`;
    await open(`${shell.slice(0, end)}${part}\n${shell.slice(end)}`);
    for (const at of sources.keys()) {
      await firefox.run("document.getElementById('said').textContent = ''");
      await press(`Run cell ${at + 1}`);
      expect([sources[at], await ended()]).toEqual([
        sources[at],
        expect.stringContaining(`Cell ${at + 1} failed.`),
      ]);
    }
    const shown = await outputs();
    expect(shown.filter((one) => /Error/.test(one)).length).toBe(sources.length);
    expect(
      await firefox.run("return document.querySelector('.cell:last-of-type .state').textContent"),
    ).toBe("failed, in line 1");
    expect(await firefox.run("return String(location)")).toBe(
      `file://${join(folder, "page.html")}`,
    );
  });

  it("prepare two exports of invented children", async () => {
    await firefox.open(`file://${resolve("out/pages/study.html")}`);
    await press("Take invented data to practise");
    await press("Look at the columns");
    const text = (words: string) =>
      firefox.until(
        "return document.getElementById('step').textContent.includes(arguments[0])",
        words,
      );
    await text("0 of 400 match as written");
    await firefox.run(
      `const option = [...document.querySelectorAll("option")].find((one) => one.textContent === "without leading zeros");
      const menu = option.closest("select");
      menu.value = option.value;
      menu.dispatchEvent(new Event("change"));`,
    );
    await text("Children in both files: 400 match");
    await press("Agree to all of these");
    await text("The study files are made");
    expect(await blocked()).toEqual([]);
  });
});
