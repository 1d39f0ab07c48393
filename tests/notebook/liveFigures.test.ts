import { describe, expect, it } from "vitest";
import { limitFigure } from "../../src/figures/index.js";
import { displaysOf } from "../../src/notebook/display.js";
import { accuracyAtCutOffs, rocCurve } from "../../src/thresholds/index.js";

const values = Array.from({ length: 200 }, (_, row) => row % 20);
const condition = values.map((value, row) => value + (row % 9) > 15);
const curve = rocCurve({ values, condition, audience: "journal" }, { positiveWhen: "high" });
const figure = limitFigure(curve, accuracyAtCutOffs(curve), { limit: 12 });

describe("a figure shown live", () => {
  it("carries the chart by its open types beside the picture, and nothing that draws it", () => {
    const [bundle] = displaysOf(figure, null, { live: true });
    expect(Object.keys(bundle!).sort()).toEqual([
      "application/vnd.vegalite.v5+json",
      "application/vnd.vegalite.v6+json",
      "image/png",
      "text/html",
      "text/plain",
    ]);
    const { params } = JSON.parse(bundle!["application/vnd.vegalite.v6+json"]!);
    expect(params[0].bind.input).toBe("range");
    expect(Object.values(bundle!).join("").length).toBeLessThan(300_000);
    expect(bundle!["text/html"]).not.toContain("vega.parse");
    const [still] = displaysOf(figure);
    expect(Object.keys(still!).sort()).toEqual(["image/png", "text/html", "text/plain"]);
    expect(still!["text/html"]).not.toContain("<script");
  });

  it("is given to the page by the running kernel alone, on this machine and under its name", async () => {
    const [bundle] = displaysOf(figure, null, { live: true });
    const address = /"(http:[^"]+)"/.exec(bundle!["text/html"]!)![1]!;
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[0-9a-f]{32}\.js$/);
    const script = await (await fetch(address)).text();
    expect(script).toContain("vega.parse");
    expect(script).toContain("Refer when ≥ +12.00 D");
    const runtime = await fetch(address.replace(/[0-9a-f]{32}/, "runtime"));
    expect((await runtime.text()).length).toBeGreaterThan(100_000);
    const other = await fetch(address.replace(/[0-9a-f]{32}/, "0".repeat(32)));
    expect(other.status).toBe(404);
  });
});
