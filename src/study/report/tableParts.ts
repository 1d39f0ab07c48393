import type { TableColumn } from "../../results/index.js";

export const text = (label: string): TableColumn => ({ label, format: "text" });
export const count = (label: string): TableColumn => ({ label, format: "count" });

/** "95 %" from 0.95. */
export function percent(level: number): string {
  return `${Number((level * 100).toPrecision(4))} %`;
}
