import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { render } from "../../src/figures/index.js";
import { runProgram } from "../builders/program.js";
import { cases } from "./cases.js";

// A browser without the bundled fonts installed: each figure brings its letters, which are as wide as
// the layout took them to be, so that nothing is squeezed.
const measure = `
const said = [];
const widths = async () => {
  for (const box of document.querySelectorAll("div")) {
    // the drawing as it is shown, without the lengths that it states
    for (const text of box.querySelectorAll("[textLength]")) {
      const stated = Number(text.getAttribute("textLength"));
      text.removeAttribute("textLength");
      said.push([box.id, text.textContent, stated, text.getComputedTextLength()]);
    }
  }
  const faces = [...document.fonts].map((face) => face.status);
  document.body.textContent = JSON.stringify({ said, faces });
};
document.fonts.ready.then(() => setTimeout(widths, 500));`;

describe("the letters of a figure in a browser", () => {
  it("are those of the drawing, as wide as it says", async () => {
    const folder = await mkdtemp(join(tmpdir(), "meridional-letters-"));
    try {
      const drawn = await Promise.all(
        cases.map(async ({ name, draw }) => `<div id="${name}">${await render(draw())}</div>`),
      );
      const file = join(folder, "page.html");
      await writeFile(
        file,
        `<!doctype html><meta charset="utf-8"><body>${drawn.join("\n")}<script>${measure}</script>`,
      );
      const page = runProgram("chromium", [
        ...["--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=20000"],
        ...["--dump-dom", `file://${file}`],
      ]);
      const json = /<body>(\{.*\})<\/body>/s.exec(page)![1]!;
      const { said, faces } = JSON.parse(
        json.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&"),
      ) as {
        said: [figure: string, text: string, stated: number, drawn: number][];
        faces: string[];
      };
      expect(said.length).toBeGreaterThan(500);
      expect(faces.length).toBeGreaterThan(cases.length);
      expect(faces).not.toContain("error");
      // letters that are joined in the font stand side by side here: under a fiftieth wider
      const apart = said.filter(
        ([, , stated, width]) => Math.abs(width - stated) > 0.02 * stated + 0.1,
      );
      expect(apart).toEqual([]);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
