import { resolve } from "../../platform/index.js";

/** The folder beside a public report that holds its exact result. */
export function confidentialFolder(folder: string): string {
  return `${resolve(folder)}-confidential`;
}
