import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { render } from "../../src/figures/index.js";
import { svgToPng } from "../../src/figures/render/png.js";
import { runProgram } from "../builders/program.js";
import { cases } from "./cases.js";

// Another program's drawing of the PDF against the PNG: ink reaches equally
// far on every side, so that nothing is cut off or scaled.
describe("a figure as PDF", () => {
  it("reaches as far as the PNG on every side", async () => {
    const folder = await mkdtemp(join(tmpdir(), "meridional-pdf-"));
    try {
      const seen = new Set<string>();
      for (const { draw } of cases) {
        const figure = draw();
        const file = join(folder, "figure.pdf");
        await writeFile(file, await render(figure, { format: "pdf" }));
        runProgram("pdftoppm", ["-r", "144", "-gray", "-singlefile", file, join(folder, "page")]);
        const printed = inkOfGrey(await readFile(join(folder, "page.pgm")));
        const svg = await render(figure);
        const widthPoints = Number(/viewBox="0 0 ([\d.]+)/.exec(svg)![1]);
        const drawn = inkOfColour(await svgToPng(svg, { widthPoints, dpi: 144 }));
        printed.forEach((side, at) => {
          // two points and less: letters are blurred at their edges, and pages rounded
          expect(Math.abs(side - drawn[at]), `${figure.name}: ${printed} ${drawn}`).toBeLessThan(5);
        });
        seen.add(drawn.join());
      }
      expect(seen.size).toBeGreaterThan(10);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});

/** Left, top, right and bottom of what is darker than a light grey. */
function ink(width: number, height: number, grey: (at: number) => number): number[] {
  let [left, top, right, bottom] = [width, height, 0, 0];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (grey(y * width + x) > 200) continue;
      left = Math.min(left, x);
      top = Math.min(top, y);
      right = Math.max(right, x);
      bottom = Math.max(bottom, y);
    }
  }
  return [left, top, right, bottom];
}

function inkOfGrey(file: Buffer): number[] {
  const [head, width, height] = /^P5\s(\d+) (\d+)\s255\s/.exec(file.toString("latin1"))!;
  return ink(Number(width), Number(height), (at) => file[head.length + at]);
}

function inkOfColour({ pixels, width, height }: Awaited<ReturnType<typeof svgToPng>>): number[] {
  return ink(width, height, (at) => (pixels[4 * at] + pixels[4 * at + 1] + pixels[4 * at + 2]) / 3);
}
