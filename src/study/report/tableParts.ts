import type { TableColumn } from "../../results/index.js";

export const text = (label: string): TableColumn => ({ label, format: "text" });
export const count = (label: string): TableColumn => ({ label, format: "count" });
