import { mkdirSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/**
 * Registers the notebook kernel for the current user, by absolute paths, so that Jupyter finds it
 * whatever the PATH. Nothing is written into the project.
 *
 * @returns the folder of the kernel
 */
export function registerKernel(): string {
  const folder = join(jupyterDataFolder(), "kernels", "meridional");
  const kernel = {
    argv: [
      process.execPath,
      fileURLToPath(new URL("./kernelMain.js", import.meta.url)),
      "{connection_file}",
    ],
    display_name: "TypeScript (meridional)",
    language: "typescript",
    env: { NODE_NO_WARNINGS: "1" },
  };
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "kernel.json"), `${JSON.stringify(kernel, null, 2)}\n`);
  return folder;
}

/** Where Jupyter looks for a user's kernels, by its own documented rules. */
function jupyterDataFolder(): string {
  const { JUPYTER_DATA_DIR, XDG_DATA_HOME, APPDATA } = process.env;
  if (JUPYTER_DATA_DIR) return JUPYTER_DATA_DIR;
  if (process.platform === "darwin") return join(homedir(), "Library", "Jupyter");
  if (process.platform === "win32" && APPDATA) return join(APPDATA, "jupyter");
  return join(XDG_DATA_HOME ?? join(homedir(), ".local", "share"), "jupyter");
}
