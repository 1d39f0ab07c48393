import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";

/** What axe finds by the rules of WCAG 2.2 and its own best practice, in light and in dark. */
export async function axeFindings(page: Page): Promise<string[]> {
  const axe = await readFile("node_modules/axe-core/axe.min.js", "utf8");
  const found: string[] = [];
  for (const colorScheme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme });
    found.push(
      ...(await page.evaluate(async (source) => {
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own globals are not typed here
        const scope = globalThis as any;
        scope.axe ?? new Function(source).call(scope);
        const { violations } = await scope.axe.run({
          runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"],
        });
        return violations.map(
          (rule: { id: string; nodes: { html: string }[] }) =>
            `${rule.id}: ${rule.nodes[0]!.html.slice(0, 120)}`,
        ) as string[];
      }, axe)),
    );
  }
  return found;
}
